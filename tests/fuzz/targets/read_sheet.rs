//! See the file that is checked.
#![no_main]

#[path = "../../all/fuzzed/file_faults.rs"]
mod file_faults;
#[path = "../../all/fuzzed/read_sheet.rs"]
mod read_sheet;

libfuzzer_sys::fuzz_target!(|data: &[u8]| read_sheet::check(data));
