//! A few linear equations.

/// Pivots below this share of the largest coefficient are zero. Right sides do not
/// count: they have a unit of their own.
const NOTHING: f64 = 1e-9;

/// The unknowns of `equations`, each row its coefficients and then its right
/// side (Gauss-Jordan elimination with the largest pivot of each column); `None`
/// for an unknown that the equations leave open.
pub(super) fn solved(mut equations: Vec<Vec<f64>>, unknowns: usize) -> Vec<Option<f64>> {
    let coefficients = equations.iter().flat_map(|row| row.iter().take(unknowns));
    let largest = coefficients.fold(0.0_f64, |most, x| most.max(x.abs()));
    let mut pivots: Vec<usize> = Vec::new();
    for column in 0..unknowns {
        let from = pivots.len();
        let size = |row: &Vec<f64>| row.get(column).map_or(0.0, |x| x.abs());
        let candidates = equations.iter().enumerate().skip(from);
        let best = candidates.max_by(|(_, a), (_, b)| size(a).total_cmp(&size(b)));
        let Some((place, pivot)) = best.map(|(place, row)| (place, size(row))) else {
            break;
        };
        if pivot > NOTHING * largest {
            equations.swap(from, place);
            clear(&mut equations, from, column);
            pivots.push(column);
        }
    }
    let row_of = |unknown: usize| {
        let row = equations.get(pivots.iter().position(|column| *column == unknown)?)?;
        let open = (0..unknowns).filter(|column| !pivots.contains(column));
        let free = open
            .filter_map(|column| row.get(column))
            .all(|x| x.abs() <= NOTHING);
        row.last().copied().filter(|_| free)
    };
    (0..unknowns).map(row_of).collect()
}

/// Makes `column` 1 in row `pivot` and 0 in every other.
fn clear(equations: &mut [Vec<f64>], pivot: usize, column: usize) {
    let Some(row) = equations.get_mut(pivot) else {
        return;
    };
    let by = row.get(column).copied().unwrap_or(1.0);
    row.iter_mut().for_each(|x| *x /= by);
    let row = row.clone();
    for (_, other) in equations
        .iter_mut()
        .enumerate()
        .filter(|(place, _)| *place != pivot)
    {
        let times = other.get(column).copied().unwrap_or(0.0);
        for (x, y) in other.iter_mut().zip(&row) {
            *x -= times * y;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_equations_leave_open_stays_open() {
        let equations = vec![
            vec![1.0, 1.0, 0.0, 5.0],
            vec![2.0, 2.0, 0.0, 10.0],
            vec![0.0, 0.0, 4.0, 8.0],
        ];
        assert_eq!(solved(equations, 3), [None, None, Some(2.0)]);
    }

    #[test]
    fn equations_of_nothing_leave_all_open() {
        assert_eq!(solved(vec![vec![0.0, 0.0]], 1), [None]);
        assert_eq!(solved(Vec::new(), 2), [None, None]);
    }

    #[test]
    fn small_numbers_are_solved_as_large_ones_are() {
        let solution = solved(vec![vec![1e-12, 2e-12]], 1);
        assert!((solution[0].unwrap() - 2.0).abs() < 1e-9);
        let solution = solved(vec![vec![1e-6, 1e6]], 1);
        assert!((solution[0].unwrap() / 1e12 - 1.0).abs() < 1e-9);
    }

    #[test]
    fn rows_are_swapped_where_a_pivot_is_nothing() {
        let equations = vec![vec![0.0, 2.0, 6.0], vec![4.0, 0.0, 8.0]];
        assert_eq!(solved(equations, 2), [Some(2.0), Some(3.0)]);
    }
}
