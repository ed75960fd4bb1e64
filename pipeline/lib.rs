pub mod audit;
pub mod bag;
pub mod bundle;
pub mod disk;
