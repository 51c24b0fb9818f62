//! The clock, read in one place.

/// Today as `YYYY-MM-DD`, in the time zone of the machine.
pub(super) fn today() -> String {
    jiff::ZonedDateTime::now().date().to_string()
}
