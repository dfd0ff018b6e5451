"""Published responses against the shipped knowledge: weed, control, setting, what the source says, the source."""

from __future__ import annotations

from datetime import date

import pytest
from shipped_cases import shipped, there

from weedkey.control.gatebook import open_book
from weedkey.control.responses import Reading
from weedkey.model.base import Knowledge

POST, PRE = "post_emergence", "pre_emergence"
THREE_WAY_ALS = "thiencarbazone_plus_foramsulfuron_plus_halosulfuron"
AUXINS = "2_4_d_plus_mecoprop_plus_dicamba"
AUG, SEPT, OCT, DEC, FEB = (date(2025, month, 15) for month in (8, 9, 10, 12, 2))

#: (weed, control, timing, setting, grade that must be among the rows that speak, source)
FACTS = [
    ("dallisgrass", THREE_WAY_ALS, POST, {"on": SEPT}, "excellent", "HortScience 51(6), 2016: September 94 %"),
    ("dallisgrass", THREE_WAY_ALS, POST, {"on": OCT}, "fair", "HortScience 51(6), 2016: October alone 55 % or less"),
    ("torpedograss", "quinclorac", POST, {}, "good", "Weed Technology 15(4), 2001: 88 % after three sprays"),
    ("torpedograss", "sethoxydim", POST, {"turf": "centipedegrass"}, "fair", "LSU, 2018: temporary suppression"),
    ("bermudagrass_weed", "fluazifop_plus_triclopyr", POST, {"turf": "zoysiagrass"}, "fair", "Tennessee: 64 to 79 %"),
    ("bermudagrass_weed", "fenoxaprop_plus_triclopyr", POST, {"turf": "zoysiagrass"}, "fair", "Tennessee: 64 to 79 %"),
    ("bermudagrass_weed", "mesotrione", POST, {"turf": "kentucky_bluegrass"}, "fair", "CSSA, 2007: 65 % or less"),
    ("large_crabgrass", "dithiopyr", PRE, {}, "good", "Weed Technology (1993-1994): 85 to 89 % in bermudagrass"),
    ("large_crabgrass", "dithiopyr", POST, {"weed_stage": "seedling"}, "excellent", "Weed Technology 5(3), 1991"),
    ("large_crabgrass", "quinclorac", POST, {"weed_stage": "seedling"}, "excellent", "Weed Technology 5(3), 1991"),
    ("smooth_crabgrass", "mesotrione", POST, {}, "good", "Weed Technology (Tennessee): 87 % or more"),
    ("goosegrass", "foramsulfuron_plus_metribuzin", POST, {}, "good", "Weed Technology 18, 2004: over 85 %"),
    ("goosegrass", "sulfentrazone", POST, {"on": AUG}, "poor", "Weed Technology (Georgia): 52 %"),
    ("goosegrass", "oxadiazon", PRE, {}, "excellent", "Rutgers"),
    ("goosegrass", "prodiamine", PRE, {}, "fair", "Rutgers: inconsistent"),
    ("goosegrass", "dithiopyr", PRE, {}, "fair", "Rutgers: inconsistent"),
    ("goosegrass", "pendimethalin", PRE, {}, "fair", "Rutgers: inconsistent"),
    ("goosegrass", "topramezone_plus_metribuzin", POST, {}, "good", "Journal of Applied Horticulture, 2020"),
    ("annual_bluegrass", "flazasulfuron", POST, {"on": DEC}, "good", "HortScience 42(3), 2007: 87 % or more"),
    ("annual_bluegrass", "foramsulfuron", POST, {"on": DEC}, "good", "HortScience 42(3), 2007: 87 % or more"),
    ("annual_bluegrass", "rimsulfuron", POST, {"on": DEC}, "good", "HortScience 42(3), 2007: 87 % or more"),
    ("annual_bluegrass", "trifloxysulfuron", POST, {"on": DEC}, "good", "HortScience 42(3), 2007: 87 % or more"),
    ("annual_bluegrass", "glufosinate", POST, {"on": DEC}, "good", "HortScience 42(3), 2007: 87 % or more"),
    ("annual_bluegrass", "simazine", POST, {"on": DEC}, "good", "HortScience 42(3), 2007: December over 85 %"),
    ("annual_bluegrass", "amicarbazone", POST, {"turf": "perennial_ryegrass"}, "fair", "ATS 11(1), 2014: 64 to 99 %"),
    ("annual_bluegrass", "prodiamine", PRE, {"on": SEPT}, "excellent", "from memory: susceptible populations only"),
    ("annual_bluegrass", "indaziflam", PRE, {"on": SEPT}, "excellent", "from memory"),
    ("nimblewill", "mesotrione", POST, {"turf": "kentucky_bluegrass"}, "good", "Iowa State, 2011: two applications"),
    ("purple_nutsedge", "halosulfuron", POST, {}, "good", "Arizona, 2004: 88 to 90 %"),
    ("purple_nutsedge", "flazasulfuron", POST, {}, "excellent", "Arizona, 2004: 91 %"),
    ("purple_nutsedge", "sulfentrazone", POST, {}, "poor", "Weed Technology 26(1), 2012: under 30 % in bermudagrass"),
    ("purple_nutsedge", "bentazon", POST, {}, "poor", "PNW handbook"),
    ("green_kyllinga", "halosulfuron", POST, {}, "good", "Weed Technology 19(4), 2005: 89 to 99 %"),
    ("green_kyllinga", "trifloxysulfuron", POST, {}, "good", "Weed Technology 19(4), 2005: 89 to 99 %"),
    ("green_kyllinga", "bentazon", POST, {}, "poor", "Weed Technology 19(4), 2005: 50 % or less a year later"),
    ("virginia_buttonweed", "fluroxypyr", POST, {}, "good", "Mississippi State, 2010"),
    ("virginia_buttonweed", "metsulfuron", POST, {}, "good", "Mississippi State, 2010"),
    ("virginia_buttonweed", "dicamba", POST, {"turf": "st_augustinegrass"}, "fair", "Texas A&M"),
    ("doveweed", THREE_WAY_ALS, POST, {}, "good", "Weed Technology 31(4), 2017: about 80 %"),
    ("doveweed", "glyphosate", POST, {}, "poor", "Weed Technology 31(4), 2017: stood very high rates"),
    ("doveweed", "atrazine", POST, {"turf": "centipedegrass"}, "fair", "Arkansas, 2009"),
    ("doveweed", "metsulfuron", POST, {}, "fair", "Arkansas, 2009"),
    ("ground_ivy", "triclopyr", POST, {"turf": "tall_fescue", "on": OCT}, "good", "Purdue: autumn"),
    ("ground_ivy", "fluroxypyr", POST, {"turf": "tall_fescue", "on": OCT}, "good", "Purdue: autumn"),
    ("ground_ivy", "clopyralid", POST, {"turf": "tall_fescue"}, "poor", "Purdue"),
    ("ground_ivy", "quinclorac", POST, {"turf": "tall_fescue"}, "poor", "Purdue"),
    ("wild_violet", "2_4_d", POST, {"turf": "tall_fescue"}, "poor", "Weed Technology 34(4), 2020"),
    ("wild_violet", "mecoprop", POST, {"turf": "tall_fescue"}, "poor", "Weed Technology 34(4), 2020"),
    ("wild_violet", "quinclorac", POST, {"turf": "tall_fescue"}, "poor", "Weed Technology 34(4), 2020"),
    ("white_clover", "2_4_d", POST, {}, "poor", "Weed Technology (Cornell), 1990; Iowa State, 1995"),
    ("white_clover", "mecoprop", POST, {}, "excellent", "Iowa State, 1995"),
    ("white_clover", "quinclorac", POST, {}, "excellent", "Michigan State"),
    ("white_clover", "dicamba", POST, {}, "good", "Weed Technology (Cornell), 1990"),
    ("dandelion", "quinclorac", POST, {}, "good", "Weed Technology (Cornell), 1990"),
    ("dandelion", "triclopyr", POST, {"on": date(2025, 4, 20)}, "good", "Ohio State: spring"),
    ("dandelion", "clopyralid", POST, {}, "poor", "Weed Technology (Cornell), 1990: alone"),
    ("dandelion", "mecoprop", POST, {"on": OCT}, "fair", "Iowa State, 1995: autumn"),
    ("broadleaf_plantain", "2_4_d", POST, {}, "good", "Weed Technology (Cornell), 1990"),
    ("broadleaf_plantain", "dicamba", POST, {}, "poor", "Weed Technology (Cornell), 1990: alone"),
    ("lawn_burweed", "metsulfuron", POST, {"on": FEB}, "excellent", "Mississippi State, 2022: by end of February"),
    ("lawn_burweed", "imazaquin", POST, {"on": FEB}, "excellent", "Mississippi State, 2022: by end of February"),
    ("lawn_burweed", "atrazine", POST, {"on": FEB}, "excellent", "Mississippi State, 2022: by end of February"),
    ("florida_betony", "metsulfuron", POST, {}, "good", "Weed Technology (Georgia): over 83 %"),
    ("florida_betony", "trifloxysulfuron", POST, {}, "good", "Weed Technology (Georgia): over 83 %"),
    ("chamberbitter", "isoxaben", PRE, {"on": date(2025, 4, 20)}, "good", "Northwest Florida Extension: 80 to 90 %"),
    ("common_lespedeza", AUXINS, POST, {}, "good", "Clemson"),
    ("wild_garlic", "imazaquin", POST, {"on": FEB}, "good", "Mississippi State, 2012"),
    ("wild_garlic", "metsulfuron", POST, {"on": FEB}, "good", "Mississippi State, 2012"),
    ("wild_garlic", AUXINS, POST, {"on": FEB}, "good", "Mississippi State, 2012; fair in 2005"),
    (
        "carpetgrass_weed",
        "thiencarbazone_plus_iodosulfuron_plus_dicamba",
        POST,
        {},
        "excellent",
        "Weed Technology, 2019: 91 %",
    ),
    ("henbit", "isoxaben", PRE, {"on": SEPT}, "excellent", "from memory"),
    ("common_chickweed", "metsulfuron", POST, {}, "excellent", "from memory"),
    ("dichondra", "metsulfuron", POST, {}, "good", "from memory"),
    ("dollarweed", "atrazine", POST, {"turf": "st_augustinegrass", "on": FEB}, "good", "from memory; LSU, 2018"),
    (
        "false_green_kyllinga",
        "halosulfuron",
        POST,
        {"turf": "tall_fescue"},
        "excellent",
        "Weed Technology, 2019: over 93 %",
    ),
    (
        "false_green_kyllinga",
        "sulfentrazone",
        POST,
        {"turf": "tall_fescue"},
        "poor",
        "Weed Technology, 2019: under 50 %",
    ),
]


@pytest.fixture(scope="module")
def base() -> Knowledge:
    """The shipped knowledge."""
    return shipped()


def read(base: Knowledge, weed: str, control: str, timing: str, more: dict[str, object]) -> Reading | None:
    """What the shipped rows say."""
    here = there(**({"turf": "bermudagrass"} | more))
    return open_book(base, here).reading(base.weeds[weed], base.controls[control], timing)


def test_there_are_at_least_sixty_facts() -> None:
    """The promise of this file."""
    assert len(FACTS) >= 60


@pytest.mark.parametrize("fact", FACTS, ids=[f"{fact[0]}-{fact[1]}-{number}" for number, fact in enumerate(FACTS)])
def test_response(base: Knowledge, fact: tuple[str, str, str, dict[str, object], str, str]) -> None:
    """The published grade is among the rows that speak in its setting."""
    weed, control, timing, more, grade, source = fact
    reading = read(base, weed, control, timing, more)
    assert reading is not None, source
    assert grade in {row.result for row in reading.rows}, source


DECIDED = [
    ("purple_nutsedge", "sulfentrazone", {}, {"poor"}, "Weed Technology 26(1), 2012: in bermudagrass"),
    ("purple_nutsedge", "bentazon", {}, {"poor", "none"}, "PNW handbook"),
    ("white_clover", "2_4_d", {}, {"poor"}, "Cornell, 1990; Iowa State, 1995"),
    ("wild_violet", "2_4_d", {"turf": "tall_fescue"}, {"poor"}, "Weed Technology 34(4), 2020"),
    ("doveweed", "glyphosate", {}, {"poor", "none"}, "Weed Technology 31(4), 2017"),
    ("dallisgrass", THREE_WAY_ALS, {"on": SEPT}, {"excellent"}, "HortScience 51(6), 2016"),
    ("dallisgrass", THREE_WAY_ALS, {"on": OCT}, {"fair", "poor"}, "HortScience 51(6), 2016"),
    ("goosegrass", "mesotrione", {"weed_stage": "mature"}, {"poor", "none"}, "Journal of Applied Horticulture, 2020"),
    ("goosegrass", "mesotrione", {"weed_stage": "young"}, {"good"}, "Weed Technology (Tennessee)"),
    ("lawn_burweed", "metsulfuron", {"on": FEB}, {"excellent"}, "Mississippi State, 2022"),
    ("green_kyllinga", "bentazon", {}, {"poor", "fair"}, "Weed Technology 19(4), 2005, against GCM, 1999"),
    ("dandelion", "clopyralid", {}, {"poor"}, "Weed Technology (Cornell), 1990"),
]


@pytest.mark.parametrize("fact", DECIDED, ids=[f"{fact[0]}-{fact[1]}-{number}" for number, fact in enumerate(DECIDED)])
def test_the_answer_over_all_rows(base: Knowledge, fact: tuple[str, str, dict[str, object], set[str], str]) -> None:
    """Where rows differ by condition the condition decides."""
    weed, control, more, results, source = fact
    reading = read(base, weed, control, POST, more)
    assert reading is not None
    assert reading.result in results, source
