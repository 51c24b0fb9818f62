//! Names that cannot be guessed.

use super::trouble::Trouble;

/// 128 random bits in hexadecimal.
pub(super) fn token() -> Result<String, Trouble> {
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes)
        .map_err(|_| Trouble::failed("the machine gives no random numbers; try again"))?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}
