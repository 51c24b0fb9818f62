//! See the file that is checked.
#![no_main]

#[path = "../../all/fuzzed/read_table.rs"]
mod read_table;

libfuzzer_sys::fuzz_target!(|data: &[u8]| read_table::check(data));
