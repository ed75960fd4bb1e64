//! The cautions that go with figures where somebody could come to harm: one wording for each danger.

/// Said with every figure of a weight that hangs overhead.
pub const OVERHEAD: &str = "What falls from a wall can hurt. Have the wall, the fixings and the support judged by a \
                            competent person before anything hangs; local codes and licensed practice rule, not this \
                            figure.";
