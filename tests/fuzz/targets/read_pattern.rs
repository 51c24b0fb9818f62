//! See the file that is checked.
#![no_main]

#[path = "../../all/fuzzed/file_faults.rs"]
mod file_faults;
#[path = "../../all/fuzzed/read_pattern.rs"]
mod read_pattern;

libfuzzer_sys::fuzz_target!(|data: &[u8]| read_pattern::check(data));
