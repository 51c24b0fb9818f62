//! Words around the name of a fibre: what they say of it, and which name none.

use crate::label::token::words;

/// Words around a fibre that do not change what it is.
pub const QUALITIES: &[&str] = words! {
    organic, extra, extrafine, fine, superfine, ultrafine, pure, new, virgin, recycled, soft,
    combed, carded, mercerised, mercerized, egyptian, peruvian, highland, falkland, premium,
    bio, kbt, gots, baby, kid, royal, british, australian, english, irish, norwegian, scottish,
    wild, raw, long, staple, longstaple, undyed, natural, all, reine, vierge, vergine, virgen,
    pura, puro, pur, merinos, peignee, biologique, biologisch, organico, okologisk, økologisk,
    ekologisk, superkid, super, tops, hair, spun, filament, high, bulk, anti, pilling, peigne,
    żywa, zywa, dziewicza, owcza, down, czysta, strizni, merynosow, merynos, чистая, натуральная, saf,
    mercerise, microfibre, microfiber, micro, fein, feine, ren, rein, fin, fibre,
    fiber, fibres, fibers,
};
/// What a fibre may be free of, and be that fibre still.
pub const FREE_OF: &[&str] = words! { mulesing, chlorine };
/// Words that say that it was treated for the machine.
pub const SUPERWASH: &[&str] = words! { superwash, sw, superlavage };
/// Words beside a number that name no fibre.
pub const STOPS: &[&str] = words! {
    and, und, et, of, off, margin, more, less, extra, y, e, or, discount, ply, plys, plies,
};
/// Words that make a known fibre behind them another: `soy silk`.
pub const UNREAL: &[&str] = words! {
    soy, soya, milk, art, artificial, faux, vegan, banana, imitation, mock, rose, pineapple, corn,
    fake, kunst, other, autres, andere, altre, otras, outras, andre, muut,
};
/// Words after which another word completes the name of an unknown fibre.
pub const OTHER: &[&str] = words! { other, autres, andere, altre, otras, outras, andre, muut };
/// Words that complete the name of an unknown fibre.
pub const MATERIAL: &[&str] = words! {
    fibre, fibres, fiber, fibers, thread, yarn, sequins, glitter,
};
/// What viscose is often named after.
pub const BAMBOO: &[&str] = words! { bamboo, bambus, bambou, bambu, bamboe };
/// Words between a regenerated fibre and what it was made from.
pub const MADE_FROM: &[&str] = words! { from, made, ex };
