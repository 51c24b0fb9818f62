//! The program; all of it lives in the library.

fn main() {}
