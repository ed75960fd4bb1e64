pub mod picture;
