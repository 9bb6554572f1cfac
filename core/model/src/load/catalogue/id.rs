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
/// Ankle hops, low, two legs.
pub const ANKLE_HOPS: Uuid = Uuid::from_u128(0x6819b54d_0db1_43a8_b3d7_40d8d92a4e54);
/// Ankle hops, low, one leg.
pub const ANKLE_HOPS_ONE_LEG: Uuid = Uuid::from_u128(0x8f3ed74b_13cd_46e7_bb3b_240eacd1e083);
/// Pogo, from leg to leg.
pub const POGO_LEG_TO_LEG: Uuid = Uuid::from_u128(0xdb990c4b_0f75_4f0f_b818_13a7f63eb960);
/// Pogo with quarter turns.
pub const POGO_TURN: Uuid = Uuid::from_u128(0x8316805d_71ef_426e_ba51_5cfdd7e6c584);
/// Pogo with feet changing front and back.
pub const POGO_SCISSOR: Uuid = Uuid::from_u128(0x4763675c_3917_42a2_bfea_af2d7d168e38);
/// Pogo, two legs, a tenth of body mass worn.
pub const POGO_LOADED: Uuid = Uuid::from_u128(0xb78f7c04_ee07_4a8f_9110_306517138e72);
/// Two-leg hops to a beat, 2.2 a second.
pub const HOPS_PACED: Uuid = Uuid::from_u128(0x4ad61287_3838_4f96_990c_625d1259f254);
/// Rope jumping, two legs.
pub const ROPE: Uuid = Uuid::from_u128(0xa50a249f_26d4_4a64_8f53_45ab3b210083);
/// Rope jumping, one leg.
pub const ROPE_ONE_LEG: Uuid = Uuid::from_u128(0xf42867d5_9abc_439e_96f7_3753f66cfa16);
/// Rebound jumps, two legs.
pub const REBOUND_JUMPS: Uuid = Uuid::from_u128(0xdbf7b654_081b_498c_aec7_45f91d981044);
/// Rebound jumps, one leg.
pub const REBOUND_JUMPS_ONE_LEG: Uuid = Uuid::from_u128(0xab1f06dd_915d_463e_9501_d699ae104fb1);
/// Rebound jumps, two legs, a tenth of body mass worn.
pub const REBOUND_JUMPS_LOADED: Uuid = Uuid::from_u128(0x3585ddd2_e97d_4ff8_a4e3_e619f550ff65);
/// Split jumps, changing legs.
pub const SPLIT_JUMPS: Uuid = Uuid::from_u128(0x6f18a820_2398_4161_9d12_1e86db3aede4);
/// Repeated jumps from a deep bend.
pub const DEEP_JUMPS: Uuid = Uuid::from_u128(0x985977d1_3cf2_4631_9200_64497319ffe6);
/// Repeated jumps from a deep bend with a bar, a quarter of body mass.
pub const DEEP_JUMPS_LOADED: Uuid = Uuid::from_u128(0x649b2ec3_5d60_4bbb_ab2f_3e70d1a89c15);
/// Countermovement jump and rebound.
pub const COUNTER_REBOUND: Uuid = Uuid::from_u128(0x421eace3_4e6f_460c_ad1e_eb62fa862c9e);
/// Low hurdle jumps, two legs.
pub const HURDLE_JUMPS_LOW: Uuid = Uuid::from_u128(0x378d754c_2c1e_44d9_836a_021d934da78a);
/// High hurdle jumps, two legs.
pub const HURDLE_JUMPS_HIGH: Uuid = Uuid::from_u128(0x6c12252c_a898_4371_bc85_11e7115ad577);
/// Hurdle hops, one leg.
pub const HURDLE_HOPS_ONE_LEG: Uuid = Uuid::from_u128(0x7ec78c28_833b_442d_a44a_3256b72559d8);
/// Hurdle jumps with a bounce between.
pub const HURDLE_JUMPS_BOUNCE: Uuid = Uuid::from_u128(0xcbd2b2cf_116f_4cdc_9ecb_3610fc1ee9b1);
/// Low-box rebound, two legs.
pub const LOW_BOX_REBOUND: Uuid = Uuid::from_u128(0x3cdff347_6991_487b_aff6_495afcb2e3e5);
/// Low-box rebound, one leg.
pub const LOW_BOX_REBOUND_ONE_LEG: Uuid = Uuid::from_u128(0xedb9cf15_2d96_4e9e_862d_e1dcff853a2c);
/// Low-box push-offs, same leg.
pub const LOW_BOX_PUSH_OFFS: Uuid = Uuid::from_u128(0xa7d94dda_c6d9_4df3_bffb_ad46b2e915dc);
/// Low-box push-offs, changing legs.
pub const LOW_BOX_PUSH_OFFS_CHANGING: Uuid = Uuid::from_u128(0x18c3531e_9431_4f97_9397_b26d1053c298);
/// Drop jump from 20 cm.
pub const DROP_JUMP_20: Uuid = Uuid::from_u128(0x2a18b02e_37ca_4f4f_b9af_ec004d323fff);
/// Drop jump from 40 cm.
pub const DROP_JUMP_40: Uuid = Uuid::from_u128(0x7437217e_1213_49ba_8411_81453bfdbed9);
/// Drop jump from 40 cm, short.
pub const DROP_JUMP_40_SHORT: Uuid = Uuid::from_u128(0xdf53956c_82dd_4f02_94b0_ba01354aa306);
/// Drop jump from 40 cm, high.
pub const DROP_JUMP_40_HIGH: Uuid = Uuid::from_u128(0x5f3e24fb_0ce7_4cf3_8738_98bf143c5998);
/// Drop jump from 60 cm.
pub const DROP_JUMP_60: Uuid = Uuid::from_u128(0x9136cdf6_f9dd_4ff2_b6dc_3b9a2397eb99);
/// Drop jump from 80 cm.
pub const DROP_JUMP_80: Uuid = Uuid::from_u128(0x1b633d0e_76cd_4b8f_ab13_67b15389a3ef);
/// Drop jump, no cue given.
pub const DROP_JUMP_UNCUED: Uuid = Uuid::from_u128(0x8a4797aa_e2de_4007_93e4_ce5a2a85b3da);
/// Drop jump, one leg.
pub const DROP_JUMP_ONE_LEG: Uuid = Uuid::from_u128(0x5d4967a3_05a8_446f_a8b3_f6d07c3b69c1);
/// Drop jump into three rebounds.
pub const DROP_JUMP_REBOUNDS: Uuid = Uuid::from_u128(0x90f0b5f4_0090_4f1d_bd26_d3da104a07a2);
/// Drop jump over a hurdle.
pub const DROP_JUMP_HURDLE: Uuid = Uuid::from_u128(0x469f1ef3_d780_4a1b_b841_bf3915f3287e);
/// Pogo travelling forward, two legs.
pub const POGO_FORWARD: Uuid = Uuid::from_u128(0x2bb8b26d_ea9a_49dc_ae40_09f6b03aed00);
/// Pogo travelling forward, one leg.
pub const POGO_FORWARD_ONE_LEG: Uuid = Uuid::from_u128(0x1b731148_49a5_4626_99ba_dde939a74e4d);
/// Skips for height.
pub const SKIPS_HEIGHT: Uuid = Uuid::from_u128(0x9aa96cf1_e498_48ea_8adc_8f14a34fe235);
/// Skips for distance.
pub const SKIPS_DISTANCE: Uuid = Uuid::from_u128(0x337257db_4718_48a6_a879_c4bc0887539f);
/// Gallop.
pub const GALLOP: Uuid = Uuid::from_u128(0x62751b00_5f8a_4079_a4cc_cf062f075960);
/// Standing long jump.
pub const STANDING_LONG_JUMP: Uuid = Uuid::from_u128(0x27804dc4_338d_4999_9c05_b26ec40cc6b1);
/// Three two-leg long jumps in a row.
pub const LONG_JUMPS_TWO_LEG: Uuid = Uuid::from_u128(0xa27ba5e6_d9fb_46d8_94c8_847407c815eb);
/// Two-leg forward jumps, easy.
pub const FORWARD_JUMPS_EASY: Uuid = Uuid::from_u128(0x923393db_8a88_4e8c_a774_f005c0a2265c);
/// Straight-leg bounds.
pub const BOUNDS_STRAIGHT_LEG: Uuid = Uuid::from_u128(0x51da8a8c_af9b_4e57_bb49_0461143c4026);
/// Five bounds from a stand into the sand.
pub const BOUNDS_FIVE: Uuid = Uuid::from_u128(0x3786256b_4232_48b7_95d7_8ddc79dddf01);
/// Three bounds and hold.
pub const BOUNDS_HELD: Uuid = Uuid::from_u128(0xfc4b7da8_4ca7_47b3_aed9_6f1768c35244);
/// Bounds over low hurdles.
pub const BOUNDS_HURDLES: Uuid = Uuid::from_u128(0x1500a9e0_ebd8_4ff4_91fb_457ad128b4a4);
/// Bounds from a stand, a tenth of body mass worn.
pub const BOUNDS_LOADED: Uuid = Uuid::from_u128(0xdf9806d0_bf5c_4af9_9074_c894903929da);
/// Three hops and hold, one leg.
pub const HOPS_HELD: Uuid = Uuid::from_u128(0x4335fe9c_ab1f_4e9f_a989_fa4e6e5ece6e);
/// One-leg hops over low hurdles, travelling.
pub const HOPS_HURDLES: Uuid = Uuid::from_u128(0xebfcedf7_863f_41a9_8d97_530088d8b4d3);
/// Two hops and a jump into the sand, short run-in.
pub const HOP_HOP_JUMP_RUN_IN: Uuid = Uuid::from_u128(0xa91182c0_1bc3_47fd_b7cf_058e7ddb7459);
/// Step, step, jump from a stand.
pub const STEP_STEP_JUMP: Uuid = Uuid::from_u128(0x7ec2b0d3_86e2_406b_8f46_2616baa9a788);
/// Hop, step, step, jump from a stand.
pub const HOP_STEP_STEP_JUMP: Uuid = Uuid::from_u128(0xc40bc299_86b6_4035_9fd4_21d5ae48e036);
/// Hop, hop, step, jump from a stand.
pub const HOP_HOP_STEP_JUMP: Uuid = Uuid::from_u128(0x4fecce20_316d_465c_bc4c_563a65759ddf);
/// Hop and step in turn from a stand.
pub const HOP_STEP_IN_TURN: Uuid = Uuid::from_u128(0x43dd4970_a886_4f65_a3ab_9e3d6da9ffa7);
/// Step, step, jump with a run-in.
pub const STEP_STEP_JUMP_RUN_IN: Uuid = Uuid::from_u128(0xbc6711e8_4c7b_4ecb_ab14_12bddc647933);
/// Hop, step, step, jump with a run-in.
pub const HOP_STEP_STEP_JUMP_RUN_IN: Uuid = Uuid::from_u128(0x957754ac_bdf8_4426_a563_64e804cee40d);
/// Hop, hop, step, jump with a run-in.
pub const HOP_HOP_STEP_JUMP_RUN_IN: Uuid = Uuid::from_u128(0x8eca563a_c9d3_4fd5_85c5_5af13843ca58);
/// Hop, step, hop, step, jump with a run-in.
pub const HOP_STEP_HOP_STEP_JUMP_RUN_IN: Uuid = Uuid::from_u128(0x957a5bc8_2e6e_4980_80af_e5f73d81a6cd);
/// Hops off a platform, from a stand.
pub const PLATFORM_HOPS: Uuid = Uuid::from_u128(0xe113032b_a184_4045_9b6a_fa1e42f40498);
/// Hops off a platform, with a run-in on it.
pub const PLATFORM_HOPS_RUN_IN: Uuid = Uuid::from_u128(0xfb2326ea_fd63_4093_a38b_cd3bf4d20ebb);
/// Bounds off a platform, from a stand.
pub const PLATFORM_BOUNDS: Uuid = Uuid::from_u128(0x9b9d681f_4830_42cb_adca_38f68cab3ec3);
/// Bounds off a platform, with a run-in on it.
pub const PLATFORM_BOUNDS_RUN_IN: Uuid = Uuid::from_u128(0x88bafb23_8bf8_4ca7_8be3_7b0d7d82a698);
/// Step and jump off a platform into the sand.
pub const PLATFORM_STEP_JUMP: Uuid = Uuid::from_u128(0xacff4c1c_f5b4_490b_9825_56f76407a185);
/// Drop jump forward, two legs.
pub const DROP_JUMP_FORWARD: Uuid = Uuid::from_u128(0x853754e0_1472_4087_9277_a5bd642f1c05);
/// Drop jump forward, one leg.
pub const DROP_JUMP_FORWARD_ONE_LEG: Uuid = Uuid::from_u128(0xbb70e0cf_be95_427e_b468_db4ac30fb1e4);
/// Drop from tiptoe into a held squat.
pub const SNAP_DOWN: Uuid = Uuid::from_u128(0x28cb01f0_35f9_490e_9550_c591bfcc6bef);
/// Jump and hold, two legs.
pub const JUMP_HELD: Uuid = Uuid::from_u128(0xb496e4ab_9b57_4a92_8006_01cf1ebe824b);
/// Jump off two legs and hold on one.
pub const JUMP_HELD_ONE_LEG: Uuid = Uuid::from_u128(0xb918b3e6_49eb_47c7_90eb_6f914a38894c);
/// Hop forward and hold.
pub const HOP_HELD: Uuid = Uuid::from_u128(0x1cd33db6_ee13_4d89_abd6_0ef618a3a632);
/// Leap to the other leg and hold.
pub const LEAP_HELD: Uuid = Uuid::from_u128(0x3c01f0c2_173f_4b72_b784_6fd9cc965b1b);
/// Sideways leap and hold.
pub const SIDE_HOP_HELD: Uuid = Uuid::from_u128(0x5d1062fb_ae0a_4049_b7fb_1d02787154e5);
/// Box jump, landing on one leg.
pub const BOX_HOP: Uuid = Uuid::from_u128(0x1dbedca1_8f42_4e14_8c49_25d0a1b5e750);
/// Drop landing, short and stiff.
pub const DROP_LANDING_STIFF: Uuid = Uuid::from_u128(0x93ebad2d_4cd8_4c2a_b179_fe37aec162ef);
/// Drop landing from 60 cm, held.
pub const DROP_LANDING_HIGH: Uuid = Uuid::from_u128(0x31c7ddfa_42f4_4816_9b29_08e9c410ed9d);
/// Drop landing on one leg, held.
pub const DROP_LANDING_ONE_LEG: Uuid = Uuid::from_u128(0xcecff29e_cb55_440a_af72_35cf4b03de1a);
/// Drop landing in a lunge, held.
pub const DROP_LANDING_LUNGE: Uuid = Uuid::from_u128(0x5194df92_0eee_475b_831d_019cd861b6c7);
/// Drop landing off a forward leap, held.
pub const DROP_LANDING_FORWARD: Uuid = Uuid::from_u128(0xa68263e4_536e_44ae_a1d9_1d485bb43502);
/// Quick steps from side to side.
pub const LATERAL_QUICK_STEPS: Uuid = Uuid::from_u128(0xa1e68e3f_f76c_47cd_b19b_de25b9d6439c);
/// Sideways leaps for distance.
pub const LATERAL_LEAPS_LONG: Uuid = Uuid::from_u128(0x907eec17_d49c_4f1f_a831_ff12e1d11b88);
/// Zigzag bounds.
pub const ZIGZAG_BOUNDS: Uuid = Uuid::from_u128(0x6abd73db_ddee_4f24_b852_36c7d5196552);
/// Side shuffle.
pub const SIDE_SHUFFLE: Uuid = Uuid::from_u128(0x87705fee_2b0e_4ca6_87d3_bfbd3eeea4ea);
/// Low-box push-offs from side to side.
pub const LOW_BOX_SIDE_PUSH_OFFS: Uuid = Uuid::from_u128(0x9268f426_f036_4ac3_be85_7d3267ec2267);
/// Line hops from side to side, two legs.
pub const LINE_HOPS: Uuid = Uuid::from_u128(0xaa1a0923_07a9_455e_bf00_9dd0b0bd9354);
/// Sideways hurdle jumps, two legs.
pub const SIDE_HURDLE_JUMPS: Uuid = Uuid::from_u128(0xa40cc5b6_7b80_4e58_8c2d_e6935ee3437c);
/// Sideways drop jump, two legs.
pub const SIDE_DROP_JUMP: Uuid = Uuid::from_u128(0x6b21c801_2e19_4387_b31b_c7636be62200);
/// Line hops from side to side, one leg.
pub const LINE_HOPS_ONE_LEG: Uuid = Uuid::from_u128(0x4106deb6_c27c_46dd_b618_ccd0967b7422);
/// Sideways hurdle hops, one leg.
pub const SIDE_HURDLE_HOPS: Uuid = Uuid::from_u128(0xd69afc80_a7d1_44b5_bdcb_95d16e8ac32d);
/// Hops across a line, travelling, one leg.
pub const CROSSOVER_HOPS: Uuid = Uuid::from_u128(0xfeb8cdb1_bd22_46b4_b72f_c713350236b2);
/// Paused jump, one leg.
pub const PAUSED_JUMP_ONE_LEG: Uuid = Uuid::from_u128(0x672711e0_cf57_49ad_8014_321cd8870e44);
/// Paused split jump.
pub const PAUSED_SPLIT_JUMP: Uuid = Uuid::from_u128(0x41d6f745_8856_4e42_b0d0_8e9b04cb426d);
/// Jump from a seat onto a box.
pub const SEATED_BOX_JUMP: Uuid = Uuid::from_u128(0xc1692d3e_a2c8_417a_a2df_bd1ec820d9c6);
/// Paused standing long jump.
pub const PAUSED_LONG_JUMP: Uuid = Uuid::from_u128(0xe5209cda_f4cc_443e_9b5c_810bb128314c);
/// Hurdle jumps with a stop before each.
pub const PAUSED_HURDLE_JUMPS: Uuid = Uuid::from_u128(0x1a1eaa97_9e49_4ddd_9c2f_89ec7156032b);
/// Paused squat jump with a bar, a quarter of body mass.
pub const PAUSED_SQUAT_JUMP_QUARTER: Uuid = Uuid::from_u128(0xc5e7509e_b7da_4378_bbe5_c7f7e7803477);
/// Paused squat jump with a bar, half of body mass.
pub const PAUSED_SQUAT_JUMP_HALF: Uuid = Uuid::from_u128(0x1cab2710_d046_4ee5_8c0c_97a5475794c6);
/// Long jump from four strides.
pub const LONG_JUMP_FOUR: Uuid = Uuid::from_u128(0xe71585ea_d964_4e3b_a2a8_1b96d83026fa);
/// Long jump, middle run-up.
pub const LONG_JUMP_MIDDLE: Uuid = Uuid::from_u128(0x46f4d7b5_c783_4b9b_a820_8b53b39f3a4a);
/// Long jump, full run-up.
pub const LONG_JUMP_FULL: Uuid = Uuid::from_u128(0x3f821c41_a870_4d4c_a645_85cc504b2f12);
/// Triple jump from four strides.
pub const TRIPLE_JUMP_FOUR: Uuid = Uuid::from_u128(0x18d7792c_2a5c_4b84_9f3d_1d4c0b3ddbc3);
/// Triple jump, middle run-up.
pub const TRIPLE_JUMP_MIDDLE: Uuid = Uuid::from_u128(0x62417663_74c9_48cf_873f_83a969febb7c);
/// Triple jump, full run-up.
pub const TRIPLE_JUMP_FULL: Uuid = Uuid::from_u128(0x1abd1a8b_b86d_4bb9_b179_e3975ecff10e);
/// Take-off out of one step.
pub const TAKE_OFF_ONE_STEP: Uuid = Uuid::from_u128(0x53679f65_7b2a_408b_8224_2c3d51547305);
/// Take-offs every few strides.
pub const TAKE_OFFS_RUNNING: Uuid = Uuid::from_u128(0xaa9005d2_02c2_4355_9275_a2f68c5ca57d);
/// Take-off with the free knee held.
pub const TAKE_OFF_KNEE_HELD: Uuid = Uuid::from_u128(0x8cd226df_3810_46ae_8623_a2b5c6b4caef);
/// Take-off from a low box into the sand.
pub const TAKE_OFF_LOW_BOX: Uuid = Uuid::from_u128(0xb358f714_dd43_48b3_adc4_0e350e364c84);
/// Hop into the sand.
pub const HOP_PHASE: Uuid = Uuid::from_u128(0x5cb560c4_8862_46a6_aded_38baaf2908c6);
/// Hop and step into the sand.
pub const HOP_STEP_PHASES: Uuid = Uuid::from_u128(0x3915333b_5dc9_4e3d_818e_e8d79a9a0f3c);
/// Step and jump off a platform, with a run-in on it.
pub const STEP_JUMP_PHASES: Uuid = Uuid::from_u128(0x21255c59_fe5f_4099_b437_0514fd888505);
/// B-skip.
pub const B_SKIP: Uuid = Uuid::from_u128(0xa4cf8d4c_fc3a_45d9_97e8_a3dbf240dd72);
/// High knees.
pub const HIGH_KNEES: Uuid = Uuid::from_u128(0x8a58334f_4324_4a3a_9b4c_762d910470c3);
/// Heel flicks.
pub const HEEL_FLICKS: Uuid = Uuid::from_u128(0x227c4f7e_0964_4f36_bdf4_f74498f91abd);
/// Ankle run.
pub const ANKLE_RUN: Uuid = Uuid::from_u128(0x215bd695_1724_401b_bdd5_63f91de0ee4f);
/// Backward running at speed.
pub const BACKWARD_RUN: Uuid = Uuid::from_u128(0x243f8e0c_5bd7_4a59_a44e_ae3d03c9aea9);
/// Standing start.
pub const START_STANDING: Uuid = Uuid::from_u128(0x8496b68c_1183_4726_a5df_3c7c52f5d9f4);
/// Standing start uphill.
pub const START_HILL: Uuid = Uuid::from_u128(0xc787393a_fcd3_4eb3_a51a_cdc6c15dac09);
/// Sled start, an eighth of body mass.
pub const START_SLED: Uuid = Uuid::from_u128(0x5e7a6ee6_acdd_4f0c_911c_cbae8841c666);
/// Strides at three quarters of top speed.
pub const STRIDES_EASY: Uuid = Uuid::from_u128(0x245d70be_17f4_4e27_bad4_97ab2fdd27ef);
/// Strides over marks.
pub const STRIDES_MARKS: Uuid = Uuid::from_u128(0x8f4ab7a3_89cb_4cb9_912d_a96aee205654);
/// Run-up without the jump.
pub const RUN_THROUGH: Uuid = Uuid::from_u128(0xd06413fd_cfd3_4776_adc7_5c8392d3af80);
/// Drop jump onto a second box.
pub const DROP_JUMP_ONTO_BOX: Uuid = Uuid::from_u128(0xc752b97e_062e_4dbd_a7dd_65daeda59066);
/// Stair jumps, two legs.
pub const STAIR_JUMPS: Uuid = Uuid::from_u128(0xd637fb03_5f75_45e3_a9bd_b7a1229d65ab);
/// Take-off out of a walk.
pub const TAKE_OFF_WALK_IN: Uuid = Uuid::from_u128(0x1a93b896_754a_4796_b8cd_06792d1f9835);
/// Bounds over low boxes, onto each.
pub const BOUNDS_LOW_BOXES: Uuid = Uuid::from_u128(0x8801bdc1_572c_425c_afcb_89d4ec282284);
