"""Which words each field accepts: one table that the reader, the schema's test and the templates share.

Lists that the whole program uses stand in ``weedkey.model.vocabulary``; the few that only files know stand here.
"""

from __future__ import annotations

from weedkey.model import vocabulary as v

SPREADS_BY = ("seed", "rhizomes", "stolons", "tubers", "bulbs", "fragments", "crown", "spores")
CODE_KINDS = ("usda", "eppo")
STATED_TOLERANCES = tuple(word for word in v.TOLERANCES if word != "not_known")
ADJUVANT_NEEDS = ("required", "helps", "built_in", "forbidden")
EFFECTS = ("safens", "harms", "antagonises", "strengthens")
TURF_SEASONS = ("warm", "cool")
HABITS = ("stolons", "rhizomes", "bunch")
SPREAD_MEASURES = ("tip_growth", "gap_closing", "cover_gain", "cover_after")
ESTABLISH_METHODS = ("seed", "slit_seed", "sprigs", "plugs", "sod")
FROST_EVENTS = ("last_spring", "first_autumn")
IF_NOTHING = ("will return", "will fade")
#: Words that may stand where a turf id is asked for in a tolerance or an only-non-selective row.
ANY_TURF = ("any", "any_warm_season", "any_cool_season")

#: (class of the model, field) -> accepted words; a field that holds a list is checked item by item.
ACCEPTED: dict[tuple[str, str], tuple[str, ...]] = {
    ("Weed", "group"): v.GROUPS,
    ("Weed", "growth_season"): v.GROWTH_SEASONS,
    ("LifeCycle", "kind"): v.LIFE_CYCLES,
    ("Abundance", "region"): v.REGIONS,
    ("Abundance", "how"): v.ABUNDANCE,
    ("CalendarRow", "regions"): v.REGIONS,
    ("CalendarRow", "dies"): v.DIES,
    ("Spread", "by"): SPREADS_BY,
    ("Wetland", "region"): v.WETLAND_REGIONS,
    ("Wetland", "status"): v.WETLAND_STATUSES,
    ("Sign", "condition"): v.CONDITION_IDS,
    ("Sign", "strength"): v.STRENGTHS,
    ("SiteValues", "indifferent"): ("light", "moisture", "reaction", "nutrients", "salinity"),
    ("Response", "result"): v.RESULTS,
    ("Response", "timing"): v.TIMINGS,
    ("Response", "stages"): v.WEED_STAGES,
    ("Response", "sites"): v.SITES,
    ("Response", "rate"): v.RATE_CLASSES,
    ("OnlyNonSelective", "sites"): v.SITES,
    ("Caution", "about"): v.CAUTION_TOPICS,
    ("Code", "kind"): CODE_KINDS,
    ("Control", "kind"): v.CONTROL_KINDS,
    ("Control", "timings"): v.TIMINGS,
    ("Tolerance", "result"): STATED_TOLERANCES,
    ("When", "growth"): v.GROWTH_STATES,
    ("When", "stand"): v.STAND_STAGES,
    ("When", "sites"): v.SITES,
    ("When", "regions"): v.REGIONS,
    ("When", "rate"): v.RATE_CLASSES,
    ("When", "timing"): v.TIMINGS,
    ("SiteRule", "site"): v.SITES,
    ("SiteRule", "rule"): v.SITE_RULES,
    ("Limit", "kind"): v.LIMIT_KINDS,
    ("Adjuvant", "need"): ADJUVANT_NEEDS,
    ("Interaction", "effect"): EFFECTS,
    ("WorksOn", "result"): v.RESULTS,
    ("WorksOn", "groups"): v.GROUPS,
    ("WorksOn", "life_cycles"): v.LIFE_CYCLES,
    ("WorksOn", "spreads_by"): SPREADS_BY,
    ("WorksOn", "not_spreads_by"): SPREADS_BY,
    ("WorksOn", "conditions"): v.CONDITION_IDS,
    ("WorksOn", "timing"): v.TIMINGS,
    ("WorksOn", "stages"): v.WEED_STAGES,
    ("Gate", "growth"): v.GROWTH_STATES,
    ("Condition", "id"): v.CONDITION_IDS,
    ("Condition", "opposite"): v.CONDITION_IDS,
    ("Condition", "if_nothing_changes"): IF_NOTHING,
    ("Turf", "season"): TURF_SEASONS,
    ("Turf", "habit"): HABITS,
    ("Turf", "regions"): v.REGIONS,
    ("Nitrogen", "regions"): v.REGIONS,
    ("SpreadRate", "what"): SPREAD_MEASURES,
    ("Establish", "method"): ESTABLISH_METHODS,
    ("Establish", "regions"): v.REGIONS,
    ("Trait", "groups"): v.GROUPS,
    ("Trait", "needs"): v.NEEDS,
    ("Trait", "mown"): v.MOWN_VISIBILITY,
    ("Place", "region"): v.REGIONS,
    ("Place", "wetland_region"): v.WETLAND_REGIONS,
    ("FrostDate", "event"): FROST_EVENTS,
    ("Lawn", "site"): v.SITES,
    ("Lawn", "stand"): v.STAND_STAGES,
    ("Lawn", "growth"): v.GROWTH_STATES,
    ("Finding", "stage"): v.WEED_STAGES,
    ("Seeding", "method"): ESTABLISH_METHODS,
}

#: (class, field) -> lowest and highest accepted number.
BOUNDS: dict[tuple[str, str], tuple[float, float]] = {
    ("Seen", "share"): (0.0, 1.0),
    ("SiteValues", "light"): (1, 12),
    ("SiteValues", "moisture"): (1, 12),
    ("SiteValues", "reaction"): (1, 9),
    ("SiteValues", "nutrients"): (1, 9),
    ("SiteValues", "salinity"): (0, 9),
    ("Response", "percent"): (0.0, 100.0),
    ("Response", "judged_weeks"): (0.0, 260.0),
    ("Weed", "nuisance"): (1, 3),
    ("CalendarRow", "germinates_soil_f"): (20.0, 130.0),
    ("Tolerance", "injury_percent"): (0.0, 100.0),
    ("Trait", "cost_seconds"): (0.0, 600.0),
    ("Trait", "misread"): (0.0, 1.0),
    ("SoilPh", "low"): (3.0, 10.0),
    ("SoilPh", "high"): (3.0, 10.0),
    ("SoilPh", "lime_only_below"): (3.0, 10.0),
    ("Place", "latitude"): (-90.0, 90.0),
    ("Place", "longitude"): (-180.0, 180.0),
    ("Place", "high_f"): (-60.0, 130.0),
    ("Place", "low_f"): (-60.0, 130.0),
    ("Zone", "area_sqft"): (1.0, 10_000_000.0),
    ("Zone", "turf_cover_percent"): (0.0, 100.0),
    ("Zone", "bare_percent"): (0.0, 100.0),
    ("Finding", "cover_percent"): (0.0, 100.0),
    ("Spots", "count"): (1, 100_000),
    ("Spots", "diameter_in"): (0.1, 1200.0),
    ("Tree", "distance_ft"): (0.0, 1000.0),
    ("Tree", "height_ft"): (0.0, 400.0),
    ("PastApplication", "amount"): (0.0, 100_000.0),
    ("Seeding", "mowings_since"): (0, 200),
    ("LabelRate", "amount"): (0.000001, 100_000.0),
    ("LabelRate", "yearly_maximum"): (0.000001, 100_000.0),
    ("LabelRate", "interval_days"): (0, 730),
    ("Lawn", "stand_age_years"): (0.0, 300.0),
    ("Lawn", "air_high_f"): (-60.0, 140.0),
    ("Lawn", "air_low_f"): (-60.0, 140.0),
    ("Lawn", "water_distance_ft"): (0.0, 100_000.0),
    ("Lawn", "irrigation_days_a_week"): (0.0, 7.0),
    ("Lawn", "mowing_height_in"): (0.1, 12.0),
}
