"""Published numbers that hold for a whole class of controls, each with its source; a control's own limits come on top.

A "stop" shuts a gate. An "avoid" (advice, not an order on a label) makes the gate ask: mandatory wording binds,
advisory wording informs (``epa_lrm1``).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rule:
    """A number with its sources; ``word`` is stop or avoid. ``turfs``/``season`` empty = every turf."""

    id: str
    value: float
    word: str
    sources: tuple[str, ...]
    turfs: tuple[str, ...] = ()
    season: str = ""


#: Post-emergence herbicides on turf, °F of the day's high.
AIR_CEILINGS_F = (
    Rule("ceiling_90", 90, "stop", ("clem_safeapp", "uga_spring19", "uf_timing21")),
    Rule("ceiling_85_st_augustinegrass", 85, "stop", ("uf_timing21", "gg_atz"), turfs=("st_augustinegrass",)),
    Rule("risk_above_85", 85, "avoid", ("purd_heat", "lsu_heat13")),
    Rule("cool_season_above_80", 80, "avoid", ("kent_nut09",), season="cool"),
)
#: Actives whose vapour moves in heat: not if the day is expected to go beyond this.
VAPOUR_CEILINGS_F = {
    "2_4_d": Rule("vapour_85", 85, "stop", ("udel_vol08", "ia_hort95")),
    "dicamba": Rule("vapour_85", 85, "stop", ("udel_vol08", "ia_hort95")),
}
#: Systemic herbicides on the leaf: slow below this day's high, and after nights below the second figure (fields).
SYSTEMIC_DAY_FLOOR_F = Rule("day_floor_50", 50, "avoid", ("farm_fall20", "ksu_fall"))
SYSTEMIC_NIGHT_FLOOR_F = Rule("night_floor_40", 40, "avoid", ("farm_fall20",))
#: A non-selective spray on dormant turf: not below the first, poor below the second.
DORMANT_SPRAY_STOP_F = Rule("dormant_spray_50", 50, "stop", ("usga_dorm14",))
DORMANT_SPRAY_POOR_F = Rule("dormant_spray_60", 60, "avoid", ("msu_dorm10", "bib_gly"))
#: Floors and ceilings of single actives that sources word as a stop for the night's low or the day's high.
NIGHT_STOPS_F = {"amicarbazone": Rule("no_drop_below_55", 55, "stop", ("pnw_poa",))}
DAY_STOPS_F = {"atrazine": Rule("upper_fifties", 56, "stop", ("aug_cold10",))}

#: The only turf with published guidance for a non-selective spray over the whole, fully dormant lawn.
DORMANT_BROADCAST_TURFS = {"bermudagrass": ("hs_poa07", "usga_dorm14", "msu_dorm10", "vt_dorm")}
DORMANT_BROADCAST_OTHER = ("msu_dorm10", "clem_safeapp", "common_practice")

GREEN_UP_SOURCES = ("clem_safeapp", "uga_spring19")
STRESS_SOURCES = ("clem_safeapp", "uga_spring19", "purd_heat")
THREE_MOWINGS = Rule("three_mowings", 3, "stop", ("clem_safeapp",))
PRE_EMERGENCE_STAND_DAYS = Rule("stand_over_a_year", 365, "stop", ("uga_mcin24",))

WIND_MAX_MPH = Rule("wind_8", 8, "stop", ("pes_weather",))
WIND_LABEL_MPH = Rule("wind_10", 10, "stop", ("uf_timing21",))
WIND_CALM_MPH = Rule("calm_3", 3, "avoid", ("pes_weather",))
RAIN_FREE_HOURS = Rule("rain_24", 24, "stop", ("uf_timing21", "lsu_heat13"))
NO_IRRIGATION_HOURS = Rule("irrigation_12", 12, "stop", ("uf_timing21",))
WATER_IN_INCHES = Rule("water_in_half_inch", 0.5, "avoid", ("msu_pre06", "msu_pre05"))
NO_MOW_BEFORE_DAYS = Rule("mow_3_before", 3, "stop", ("clem_safeapp",))
NO_MOW_AFTER_DAYS = Rule("mow_2_after", 2, "stop", ("clem_safeapp",))
CAREFUL_MOW_DAYS = Rule("mow_7_each_side", 7, "avoid", ("clem_safeapp",))

#: Actives that tree roots take up. Inside the canopy the gate shuts; as far as the tree is tall it asks.
ROOT_ACTIVES = {
    "dicamba": ("udel_tree08", "wsu_trees"),
    "metsulfuron": ("uf_msm16", "uark_msm20"),
    "atrazine": ("uga_penny",),
    "simazine": ("common_practice",),
    "imazapyr": ("from_memory",),
    "aminocyclopyrachlor": ("isu_amcp11",),
}
#: Roots reach out at least as far as the tree is tall; the canopy is taken as half of that (rough).
ROOT_REACH_PER_HEIGHT = 1.0
ROOT_REACH_SOURCES = ("udel_tree08",)
CANOPY_PER_HEIGHT = 0.5
CANOPY_SOURCES = ("common_practice",)
#: Buffer beside permanent water for organic arsenicals (federal agreement of 2009, golf and sod).
WATER_BUFFER_FT = {"msma": Rule("buffer_25", 25, "stop", ("uark_msma09", "msma_agree"))}
#: Beyond this distance water is no longer asked about: the widest setback that is remembered from field labels.
WATER_FAR_FT = Rule("far_200", 200, "avoid", ("from_memory",))

#: No numeric interval known: a barrier blocks grass seed for months.
BARRIER_SEED_DAYS = Rule("barrier_blocks_seed", 180, "stop", ("uga_poapre", "pur_seed11"))
#: Any other chemical without an interval: ask when a seeding is this near.
SEEDING_ASK_DAYS = Rule("seeding_near", 60, "avoid", ("epa_label",))

#: Weeds of turf at the highest risk of resistance.
HIGH_RISK_WEEDS = {
    "annual_bluegrass": ("wssa_res20", "vtc_resist"),
    "goosegrass": ("wssa_res20", "pms_resist20"),
    "large_crabgrass": ("wssa_res20", "pms_resist20"),
    "smooth_crabgrass": ("wssa_res20", "pms_resist20"),
    "southern_crabgrass": ("wssa_res20", "pms_resist20"),
}
RESISTANCE_SOURCES = ("vtc_resist", "wssa_res20")
#: Applications closer together than this belong to one programme (a barrier in two parts, a repeat spray).
SAME_PROGRAMME_DAYS = 120
ROTATION_DAYS = 730

LABEL_SOURCES = ("epa_label", "epa_lrm1", "uky_law16")
LICENCE_SOURCES = ("nc_lic", "clem_lic")
QUOTE_STATES = {"SC": ("clem_cat3",)}
#: States that bar registered lawn pesticides on the grounds of schools (kindergarten to grade 8) and day care.
SCHOOL_BARRED_STATES = {"CT": ("uconn_sch",)}
PEOPLE_SOURCES = ("osu_pet16", "lbl_atz")
BEES_SOURCES = ("uga_bees",)
PERENNIAL_BARRIER_SOURCES = ("uga_b1393", "aug_pre13")
DORMANT_WEED_SOURCES = ("il_nimb11", "q_lawnforum_21427", "ut_w237")
ANNUAL_ENDING_SOURCES = {"winter": ("macmel", "main_burw"), "summer": ("ksu_crab21", "uf_dove08")}
