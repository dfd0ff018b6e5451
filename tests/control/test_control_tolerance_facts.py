"""Published tolerances against the shipped knowledge: turf, control, condition, what the source says, the source."""

from __future__ import annotations

from datetime import date

import pytest
from shipped_cases import shipped, there

from weedkey.control.gatebook import open_book
from weedkey.model.base import Knowledge

JAN, FEB, APR, JUN, SEP = (date(2025, month, 20) for month in (1, 2, 4, 6, 9))
DORMANT = {"growth": "dormant", "on": FEB, "air_high_f": 62.0}
GROWING = {"growth": "growing", "on": JUN, "air_high_f": 82.0}
SEEDLING = {"stand": "seedling", "growth": "growing", "on": SEP, "air_high_f": 78.0}
SPRIGS = {"stand": "sprigs_or_plugs", "growth": "growing", "on": JUN, "air_high_f": 82.0}
SOWING = {"stand": "at_seeding", "growth": "growing", "on": SEP, "air_high_f": 78.0}
SOD = {"stand": "sod_regrowth", "site": "sod_farm", "growth": "growing", "on": JUN, "air_high_f": 82.0}
COOL = {"growth": "growing", "on": APR, "air_high_f": 68.0}

#: (turf, control, setting, expected, source). Expected is what the rows say together: the most cautious that fits.
FACTS = [
    ("seashore_paspalum", "quinclorac", GROWING, "safe", "Weed Technology (Georgia), 1997: four cultivars unhurt"),
    (
        "seashore_paspalum",
        "bentazon",
        {**GROWING, "cultivar": "salam"},
        "safe",
        "Weed Technology (Florida), 2006: Salam, 10 % or less",
    ),
    ("seashore_paspalum", "sethoxydim", GROWING, "injures", "Weed Technology (Florida), 2006: 46 %"),
    ("seashore_paspalum", "imazapic", GROWING, "injures", "Weed Technology (Florida), 2006: about 45 %"),
    ("seashore_paspalum", "triclopyr", SEEDLING, "injures", "CSSA abstract (Arkansas), 2007: seedlings"),
    ("seashore_paspalum", "topramezone", GROWING, "caution", "Journal of Applied Horticulture, 2020: bleaches"),
    ("seashore_paspalum", "mesotrione", GROWING, "caution", "Journal of Applied Horticulture, 2020: bleaches"),
    ("bermudagrass", "sethoxydim", GROWING, "injures", "Weed Technology (Georgia), 1987: nearly eliminated"),
    ("bermudagrass", "fluazifop", GROWING, "injures", "Weed Technology (Georgia), 1987: nearly eliminated"),
    ("tall_fescue", "sethoxydim", COOL, "injures", "Weed Technology (Georgia), 1987: severe"),
    ("centipedegrass", "fluazifop", GROWING, "injures", "Weed Technology (Georgia), 1987: not tolerated"),
    ("zoysiagrass", "fluazifop", GROWING, "injures", "Weed Technology (Georgia), 1987: Emerald not tolerant"),
    ("zoysiagrass", "oxadiazon", GROWING, "safe", "Weed Technology, 1999: no loss on eight cultivars"),
    ("zoysiagrass", "prodiamine", GROWING, "caution", "Weed Technology, 1999: cultivar dependent"),
    ("zoysiagrass", "pendimethalin", GROWING, "caution", "Weed Technology, 1999: cultivar dependent"),
    ("zoysiagrass", "oryzalin", GROWING, "caution", "Weed Technology, 1999: among the most injurious"),
    ("zoysiagrass", "dithiopyr", GROWING, "caution", "Weed Technology, 1999: among the most injurious"),
    (
        "bermudagrass",
        "thiencarbazone_plus_foramsulfuron_plus_halosulfuron",
        SPRIGS,
        "safe",
        "Weed Technology, 2024: newly sprigged, 6 % or less",
    ),
    ("bermudagrass", "topramezone_plus_metribuzin", SPRIGS, "injures", "Weed Technology, 2024: over 25 %"),
    ("bahiagrass", "bentazon", GROWING, "safe", "Weed Technology (Florida), 2021: 1x and 2x"),
    ("bahiagrass", "carfentrazone", GROWING, "safe", "Weed Technology (Florida), 2021: 1x and 2x"),
    ("bahiagrass", "fenoxaprop", GROWING, "injures", "Weed Technology (Florida), 2021: over 20 %"),
    ("bahiagrass", "metsulfuron", GROWING, "injures", "Augusta Chronicle (UGA agent), 2012: kills bahiagrass lawns"),
    ("buffalograss", "mesotrione", SOWING, "safe", "Crop, Forage and Turfgrass Management, 2015"),
    ("buffalograss", "sulfentrazone", SOWING, "safe", "Crop, Forage and Turfgrass Management, 2015"),
    ("buffalograss", "dithiopyr", GROWING, "safe", "Texas Tech: established"),
    ("buffalograss", "benefin", GROWING, "safe", "Texas Tech: established"),
    ("buffalograss", "atrazine", GROWING, "injures", "Texas Tech: 27 to 71 % at six weeks"),
    ("buffalograss", "dicamba", GROWING, "injures", "Texas A&M, 1997: unacceptable at every rate"),
    ("bermudagrass", "prodiamine", DORMANT, "safe", "JEH 12(1), 1994: Tifway, late winter"),
    ("bermudagrass", "pendimethalin", DORMANT, "safe", "JEH 12(1), 1994: Tifway, late winter"),
    ("bermudagrass", "dithiopyr", DORMANT, "safe", "JEH 12(1), 1994: Tifway, late winter"),
    ("tall_fescue", "prodiamine", {**COOL, "on": FEB}, "safe", "JEH 12(1), 1994: established Kentucky 31"),
    ("tall_fescue", "pendimethalin", {**COOL, "on": FEB}, "safe", "JEH 12(1), 1994: established Kentucky 31"),
    ("tall_fescue", "oryzalin", COOL, "caution", "JEH 12(1), 1994; K-State, 2021: label rate only"),
    ("kentucky_bluegrass", "mesotrione_plus_amicarbazone", COOL, "injures", "HortScience 53(11), 2018: severe"),
    ("kentucky_bluegrass", "mesotrione", COOL, "caution", "HortScience 43(2), 2008: unhurt, discoloured at high rates"),
    ("kentucky_bluegrass", "siduron", SOWING, "safe", "Ohio State, 2005: newly seeded cool-season turf"),
    ("tall_fescue", "imazosulfuron", SOWING, "injures", "Weed Technology 36(4), 2022: day of seeding"),
    ("tall_fescue", "sulfentrazone_plus_carfentrazone", SOWING, "injures", "Weed Technology 36(4), 2022"),
    ("tall_fescue", "fluazifop", SEEDLING, "injures", "Weed Technology 3(2), 1989: seedlings of 2 to 4 leaves"),
    ("kentucky_bluegrass", "bentazon", COOL, "safe", "PNW handbook: established only"),
    ("tall_fescue", "bentazon", COOL, "safe", "PNW handbook: established only"),
    ("perennial_ryegrass", "bentazon", COOL, "caution", "PNW handbook: special rate restriction"),
    ("creeping_bentgrass", "bentazon", COOL, "caution", "PNW handbook: not on greens"),
    ("tall_fescue", "amicarbazone", COOL, "caution", "PNW handbook: 55 to 80 F, soil pH 7.4 or lower"),
    ("tall_fescue", "amicarbazone", {**COOL, "air_high_f": 88.0}, "not_known", "PNW handbook: 55 to 80 F only"),
    ("centipedegrass", "atrazine", GROWING, "safe", "UGA: not on a young stand, not at green-up"),
    ("centipedegrass", "atrazine", {**GROWING, "growth": "green_up"}, "not_known", "UGA: not during green-up"),
    ("st_augustinegrass", "atrazine", GROWING, "safe", "UGA: not on a young stand, not at green-up"),
    ("bermudagrass", "atrazine", DORMANT, "caution", "UGA: dormant only"),
    ("bermudagrass", "atrazine", GROWING, "injures", "Northwest Florida Extension: growing turf may be killed"),
    ("bermudagrass", "atrazine", {**DORMANT, "growth": "semi_dormant"}, "injures", "Augusta (UGA agent), 2012"),
    ("bermudagrass", "metsulfuron", DORMANT, "safe", "Mississippi State, 2022: established, late winter"),
    ("st_augustinegrass", "metsulfuron", SOD, "injures", "Texas Journal 22, 2016: all three sites"),
    ("centipedegrass", "imazaquin", DORMANT, "safe", "Mississippi State, 2022: established, late winter"),
    ("zoysiagrass", "imazaquin", DORMANT, "safe", "Mississippi State, 2022: established, late winter"),
    ("centipedegrass", "2_4_d_plus_mecoprop_plus_dicamba", COOL, "caution", "UGA: half rate and spots only"),
    ("st_augustinegrass", "2_4_d_plus_mecoprop_plus_dicamba", COOL, "caution", "UGA: half rate and spots only"),
    ("st_augustinegrass", "quinclorac", GROWING, "injures", "Virginia Tech, 2023: severe"),
    ("st_augustinegrass", "msma", GROWING, "injures", "Virginia Tech, 2023: severe"),
    ("st_augustinegrass", "trifloxysulfuron", GROWING, "not_labelled", "Virginia Tech, 2023"),
    ("st_augustinegrass", "flazasulfuron", GROWING, "not_labelled", "Virginia Tech, 2023"),
    ("tall_fescue", "topramezone", SEEDLING, "safe", "Weed Technology, 2016: 8 % or less"),
    ("bermudagrass", "glyphosate", DORMANT, "caution", "HortScience 42(3), 2007; USGA, 2014: full dormancy only"),
    ("bermudagrass", "glyphosate", {**DORMANT, "growth": "semi_dormant"}, "injures", "Mississippi State, 2010"),
    ("centipedegrass", "glyphosate", DORMANT, "not_labelled", "NC State, 2013; Mississippi State, 2010"),
    ("tall_fescue", "glyphosate", COOL, "injures", "Control facts, addendum: every growing turf"),
    ("bermudagrass", "simazine", DORMANT, "safe", "HortScience 42(3), 2007: no effect on green-up"),
    ("bermudagrass", "foramsulfuron", DORMANT, "safe", "HortScience 42(3), 2007: no effect on green-up"),
    ("tall_fescue", "metsulfuron", COOL, "injures", "Agronomy Journal 82(2), 1990: over 90 % of tall fescue"),
    ("kentucky_bluegrass", "metsulfuron", COOL, "caution", "Agronomy Journal 82(2), 1990: cultivar dependent"),
    ("tall_fescue", "sulfosulfuron", COOL, "injures", "Weed Technology 18(4), 2004: up to 65 %"),
    ("perennial_ryegrass", "sulfosulfuron", COOL, "injures", "Weed Technology 18(4), 2004: 43 %"),
    ("st_augustinegrass", "triclopyr", GROWING, "injures", "from memory"),
    ("carpetgrass", "msma", GROWING, "injures", "Weed Technology (Florida): unacceptable quality"),
    ("carpetgrass", "sethoxydim", GROWING, "caution", "Weed Technology (Florida): marginal quality"),
]


@pytest.fixture(scope="module")
def base() -> Knowledge:
    """The shipped knowledge."""
    return shipped()


def test_there_are_at_least_sixty_facts() -> None:
    """The promise of this file."""
    assert len(FACTS) >= 60


@pytest.mark.parametrize("fact", FACTS, ids=[f"{fact[0]}-{fact[1]}-{number}" for number, fact in enumerate(FACTS)])
def test_tolerance(base: Knowledge, fact: tuple[str, str, dict[str, object], str, str]) -> None:
    """What the rows say together in the source's condition."""
    turf, name, more, expected, source = fact
    control = base.controls[name]
    timing = "pre_emergence" if control.kind == "pre_emergence" else "post_emergence"
    assert open_book(base, there(turf, **more)).tolerance(control, timing).result == expected, source
