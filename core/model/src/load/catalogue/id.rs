//! The ids, drawn once. One never changes and is never given to another exercise.

use uuid::Uuid;

/// Two-leg pogos.
pub const POGO: Uuid = Uuid::from_u128(0xba0fab70_8902_4e66_9bb7_3c25da19237f);
/// One-leg pogos.
pub const POGO_ONE_LEG: Uuid = Uuid::from_u128(0xc0c15c6c_298c_4419_83f0_0783d5346063);
/// Hurdle jumps.
pub const HURDLE_JUMPS: Uuid = Uuid::from_u128(0xa8e0fe37_eb88_4d6f_8990_10b89017f747);
/// Tuck jumps.
pub const TUCK_JUMPS: Uuid = Uuid::from_u128(0x6a9186f3_e82a_451e_826d_ee7e74a42017);
/// Drop jump.
pub const DROP_JUMP: Uuid = Uuid::from_u128(0x8e696410_514c_43dd_931f_99cf9531a326);
/// Drop landing.
pub const DROP_LANDING: Uuid = Uuid::from_u128(0x3872d9d3_7e77_4079_99f4_ed8ee23cf999);
/// Box jump.
pub const BOX_JUMP: Uuid = Uuid::from_u128(0xce21941d_dfc7_47cd_add8_5869288194a7);
/// Bounds from a stand.
pub const BOUNDS_STANDING: Uuid = Uuid::from_u128(0xbb1cdf4c_b393_405a_a123_220dad277c49);
/// Bounds with a run-in.
pub const BOUNDS_RUN_IN: Uuid = Uuid::from_u128(0x0ed66ffd_565c_4b4a_b387_a2a382bbd60e);
/// Speed bounds.
pub const SPEED_BOUNDS: Uuid = Uuid::from_u128(0x4d8a2c07_61f3_4b5e_9e0d_7c31a8f2b964);
/// One-leg hops from a stand.
pub const HOPS_STANDING: Uuid = Uuid::from_u128(0x26d5f20c_f50d_4e68_a652_7efd9dd3b477);
/// One-leg hops with a run-in.
pub const HOPS_RUN_IN: Uuid = Uuid::from_u128(0x8fec19bb_1d03_4dec_ad70_f293bf36a4ec);
/// Skater hops.
pub const SKATER_HOP: Uuid = Uuid::from_u128(0xa120b4d8_9826_4705_8147_a55944b80a79);
/// Standing triple jump.
pub const STANDING_TRIPLE: Uuid = Uuid::from_u128(0xfe02bb0b_5a8e_4941_8897_efcfb943e1a4);
/// Long jump from a short run-up.
pub const LONG_JUMP_SHORT: Uuid = Uuid::from_u128(0x9162be11_1216_4c66_8f85_5afa883345b3);
/// Triple jump from a short run-up.
pub const TRIPLE_JUMP_SHORT: Uuid = Uuid::from_u128(0xec15e837_fc3b_402b_8717_89549e899817);
/// A-skips.
pub const A_SKIP: Uuid = Uuid::from_u128(0x23f35a3f_92a3_4e1a_ac30_684d277880da);
/// Sprint strides at speed.
pub const SPRINT_STRIDES: Uuid = Uuid::from_u128(0x7c7b0bdf_8ef0_40c2_b340_9210f675e17d);
/// Paused squat jumps.
pub const PAUSED_SQUAT_JUMP: Uuid = Uuid::from_u128(0x2dff784c_b728_4d5b_b6dc_f5b7a586ad0f);
