"""The closed lists of words. Enum-like values equal their YAML spelling; the schema is tested against this
module.
"""

from __future__ import annotations

GROUPS = ("grassy", "broadleaf", "sedge", "rush", "other_monocot", "moss_or_algae")
LIFE_CYCLES = ("summer_annual", "winter_annual", "annual", "biennial", "perennial")
GROWTH_SEASONS = ("warm", "cool", "both")
#: How common a weed is in a region.
ABUNDANCE = ("common", "occasional", "rare", "absent")
REGIONS = (
    "gulf_coast",
    "southeast",
    "transition",
    "northeast",
    "midwest",
    "plains",
    "southwest",
    "northwest",
)
#: Regions of the National Wetland Plant List, with the statuses from wettest to driest.
WETLAND_REGIONS = (
    "atlantic_gulf_coastal_plain",
    "eastern_mountains_piedmont",
    "midwest",
    "northcentral_northeast",
    "great_plains",
    "arid_west",
    "western_mountains",
)
WETLAND_STATUSES = ("OBL", "FACW", "FAC", "FACU", "UPL")

#: Share of plants of a kind that show a state.
OFTEN = {"always": 1.0, "usually": 0.8, "often": 0.6, "sometimes": 0.3, "rarely": 0.05}
NEEDS = ("eyes", "shoot", "lens", "flower", "trowel", "date")
#: Can the trait be seen on turf that is mown every week?
MOWN_VISIBILITY = ("always", "often", "sometimes", "rarely")

CONTROL_KINDS = (
    "selective",
    "non_selective",
    "pre_emergence",
    "hand",
    "mowing",
    "water",
    "soil",
    "shade",
    "feed",
    "replant",
    "heat_or_cover",
)
CHEMICAL_KINDS = ("selective", "non_selective", "pre_emergence")
TOLERANCES = ("safe", "caution", "injures", "not_labelled", "not_known")
#: Responses of a weed from best to worst; suppressed is short-lived, none is no effect.
RESULTS = ("excellent", "good", "fair", "poor", "none", "listed")
TIMINGS = ("pre_emergence", "early_post_emergence", "post_emergence", "any")
WEED_STAGES = ("seed", "seedling", "young", "mature", "flowering", "dormant", "any")
#: State of the turf's growth.
GROWTH_STATES = ("dormant", "semi_dormant", "green_up", "growing", "heat_stress", "drought_stress")
#: Age of the stand.
STAND_STAGES = (
    "at_seeding",
    "seedling",
    "sprigs_or_plugs",
    "new_sod",
    "sod_regrowth",
    "established",
)
SITES = (
    "home_lawn",
    "commercial_grounds",
    "sports_field",
    "school_ground",
    "golf",
    "sod_farm",
    "roadside",
)
RATE_CLASSES = ("low", "label", "high", "above_label")
SITE_RULES = ("allowed", "restricted", "barred")
GATE_STATES = ("open", "shut", "ask")
VERDICTS = (
    "treat_now",
    "wait_for",
    "leave_it",
    "prevent",
    "spot_treatment_only",
    "renovate",
)
STRENGTHS = ("strong", "moderate", "weak", "not_stated")
DIES = ("frost", "heat", "drought", "none")
CAUTION_TOPICS = (
    "people",
    "pets",
    "protective_gear",
    "trees",
    "water",
    "wells",
    "bees",
    "heat",
    "cold",
    "wind",
    "rain",
    "clippings",
    "staining",
    "turf",
    "seed",
    "livestock",
    "legal",
    "fire",
    "other",
)
LIMIT_KINDS = (
    "air_max_f",
    "air_min_f",
    "soil_min_f",
    "soil_max_f",
    "wind_max_mph",
    "rain_free_hours",
    "no_irrigation_hours",
    "water_in_inches",
    "no_mow_days_before",
    "no_mow_days_after",
    "soil_ph_max",
    "stand_age_days",
    "mowings_before",
    "days_after_green_up",
)
CONDITION_IDS = (
    "wet_or_poorly_drained",
    "overwatered",
    "dry_or_droughty",
    "compacted",
    "acid_soil",
    "alkaline_soil",
    "low_nitrogen",
    "low_fertility",
    "high_nitrogen",
    "shade",
    "thin_turf",
    "mown_too_short",
    "mown_too_high",
    "disturbed",
    "salinity",
    "sandy",
    "heavy_clay",
)
