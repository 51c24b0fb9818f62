//! See the file that is checked.
#![no_main]

#[path = "../../all/fuzzed/file_faults.rs"]
mod file_faults;
#[path = "../../all/fuzzed/read_needs.rs"]
mod read_needs;

libfuzzer_sys::fuzz_target!(|data: &[u8]| read_needs::check(data));
