//! See the file that is checked.
#![no_main]

#[path = "../../all/fuzzed/read_band.rs"]
mod read_band;

libfuzzer_sys::fuzz_target!(|data: &[u8]| read_band::check(data));
