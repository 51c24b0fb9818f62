//! quantity
