//! What owners ask by `calc`: questions that no procedure puts and no plan answers.

/// Each question with the function that answers it.
pub const CALC_QUESTIONS: &[(&str, &str)] = &[
    ("How hard does the air press outside, at this elevation?", "atmosphere"),
    ("What is a reading counted from vacuum, as a formula in a book takes it?", "absolute"),
    ("How far does the pressure fall away before the pump starts, with several tanks?", "dead_gap_of_all"),
    ("How far above the cut-in is the precharge, by the bucket?", "high_precharge_from_drawdown"),
    ("How fast does a valve lose air?", "air_leak"),
    ("What is the standard uncertainty of what was read?", "uncertainty_of"),
    ("How small a leak can a gauge see in a time?", "smallest_leak"),
    ("How long must a hold test stand to see a leak?", "hold_needed"),
    ("How much air must a cylinder hold?", "free_air"),
    ("How long does a compressor take?", "compressor_time"),
    ("How warm is air that was pumped in fast, and so has to cool?", "air_temperature_after"),
    ("How much water is in reserve at least, when it is drawn fast?", "fast_draw"),
    ("How much drawdown keeps the pump within the starts it bears?", "drawdown_for_starts"),
    ("How much water lets the pump run as long as it has to?", "water_for_run"),
    ("How large a tank gives the drawdown wanted?", "volume_needed"),
    ("What must a cut-out not pass?", "cut_out_limit"),
    ("How much does an opening let out?", "orifice_flow"),
    ("How long does a tank take to drain?", "drain_time"),
    ("What would a check say of a comparison?", "verdict"),
    ("How much granular disinfectant takes the place of bleach?", "granules"),
    ("Which dose did the bleach poured in come to?", "dose_of_bleach"),
];
