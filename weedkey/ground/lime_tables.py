"""Published lime figures as data: laboratory methods, tables, caps, reaction times; each with its sources.

A buffer pH belongs to the laboratory's own method: SMP, Mehlich, Adams-Evans, Moore-Sikora and Woodruff buffers
read differently on the same soil (ms_sera07). So the user picks the method; nothing here is mixed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class LimeMethod:
    """One way to a lime figure. ``needs``: measurements that it asks for; ``trust``: published, from_memory, low."""

    id: str
    region: str
    needs: tuple[str, ...]
    trust: str
    sources: tuple[str, ...]
    goals: tuple[Fraction, ...] = ()


@dataclass(frozen=True, slots=True)
class CapRule:
    """How much may lie on established turf at one time, in lb per 1000 sq ft.

    ``style``: cap (up to the cap, then the rest), half (above the cap only half, then retest), equal (equal parts).
    ``months``: shortest and longest wait before the next application.
    """

    id: str
    region: str
    style: str
    cap_lb: Fraction
    months: tuple[int, int]
    sources: tuple[str, ...]


_GOALS = (Fraction("6.0"), Fraction("6.5"), Fraction("7.0"))

METHODS: Mapping[str, LimeMethod] = {
    method.id: method
    for method in (
        LimeMethod("laboratory", "any", ("lime_recommendation_lb_per_1000",), "published", ("uky_id163",)),
        LimeMethod("mehlich_nc", "North Carolina", ("soil_ph", "buffer_ph"), "published", ("ncda_buff",)),
        LimeMethod(
            "mehlich_pa_turf", "Pennsylvania", ("exchangeable_acidity",), "published", ("psu_turflime",), _GOALS
        ),
        LimeMethod(
            "mehlich_pa_field",
            "Pennsylvania",
            ("soil_ph", "exchangeable_acidity"),
            "published",
            ("psu_agguide",),
            _GOALS[1:],
        ),
        LimeMethod(
            "adams_evans",
            "south-eastern coastal soils of low activity",
            ("soil_ph", "buffer_ph"),
            "from_memory",
            ("ae_sera", "from_memory"),
        ),
        LimeMethod("smp_iowa", "Iowa", ("buffer_ph",), "low", ("code_isulime",), _GOALS[:1]),
    )
}

#: Exchangeable acidity in meq/100 g -> lb CCE per 1000 sq ft for pH goals 6.0, 6.5, 7.0 (psu_turflime).
PENNSYLVANIA_TURF: tuple[tuple[Fraction, int, int, int], ...] = tuple(
    (Fraction(acidity), low, middle, high)
    for acidity, low, middle, high in (
        ("2.0", 50, 50, 50),
        ("2.6", 50, 50, 70),
        ("3.3", 50, 50, 70),
        ("3.9", 50, 70, 90),
        ("4.6", 50, 70, 110),
        ("5.2", 50, 90, 110),
        ("5.8", 50, 90, 140),
        ("6.5", 70, 110, 160),
        ("7.1", 90, 110, 160),
        ("7.8", 90, 140, 180),
        ("8.4", 110, 140, 180),
        ("9.0", 110, 160, 210),
        ("9.7", 140, 180, 230),
        ("10.3", 140, 180, 230),
        ("11.0", 160, 210, 250),
        ("11.6", 160, 210, 280),
        ("12.3", 180, 230, 280),
        ("12.9", 180, 250, 300),
        ("13.5", 210, 250, 320),
        ("14.2", 210, 280, 320),
        ("14.8", 230, 280, 340),
        ("15.5", 230, 300, 370),
        ("16.1", 250, 320, 370),
        ("16.8", 250, 320, 390),
        ("17.4", 280, 340, 390),
        ("18.0", 280, 340, 410),
        ("18.7", 300, 370, 440),
        ("19.3", 300, 390, 440),
        ("20.0", 320, 390, 460),
        ("20.6", 320, 410, 480),
        ("21.2", 340, 410, 480),
        ("21.9", 340, 460, 510),
        ("22.5", 370, 460, 530),
        ("23.2", 370, 460, 530),
        ("23.8", 390, 480, 550),
        ("24.5", 390, 480, 570),
        ("25.1", 410, 510, 570),
        ("25.7", 410, 530, 600),
    )
)

#: The rough tables by texture, low authority: pH now -> lb per 1000 sq ft to pH 6.5, tilled in (garden_limetab).
TEXTURE_TILLED: Mapping[str, Mapping[Fraction, int]] = {
    texture: {Fraction(ph): pounds for ph, pounds in zip(("4.0", "4.5", "5.0", "5.5", "6.0"), column, strict=True)}
    for texture, column in {
        "sandy_loam": (115, 95, 80, 60, 30),
        "loam": (160, 135, 105, 80, 40),
        "clay_loam": (230, 195, 150, 105, 55),
    }.items()
}
#: lb per 1000 sq ft for one full point, pH 5.5 to 6.5 (garden_ph_text, low authority).
TEXTURE_ONE_POINT: Mapping[str, int] = {"sandy_loam": 35, "loam": 50, "clay_loam": 70}
TEXTURE_SOURCES = ("garden_limetab", "garden_ph_text")

CAPS: Mapping[str, CapRule] = {
    rule.id: rule
    for rule in (
        CapRule("maryland", "Maryland", "cap", Fraction(50), (6, 6), ("umd_lime19",)),
        CapRule("virginia", "Virginia", "cap", Fraction(50), (3, 6), ("vt_lime94",)),
        CapRule("georgia", "Georgia", "half", Fraction(50), (4, 4), ("uga_792",)),
        CapRule("pennsylvania", "Pennsylvania", "cap", Fraction(100), (4, 6), ("psu_lawn",)),
        CapRule("pennsylvania_garden", "Pennsylvania", "equal", Fraction(110), (6, 6), ("psu_garden",)),
    )
}
#: The lowest cap with the longest wait: what a cautious plan uses.
CAUTIOUS_CAP = "maryland"
#: Second step of the garden rule: three equal parts from here (lb per 1000 sq ft).
GARDEN_THREE_PARTS_LB = Fraction(210)

#: Share of recent lime that reacts each month, by soil (ncda_buff).
CREDIT_LOSS: Mapping[str, Fraction] = {"mineral": Fraction(8, 100), "organic": Fraction(16, 100)}
CREDIT_SOURCES = ("ncda_buff",)
#: Months until most agricultural limes begin to change the pH (mu_lime).
SHOWS_AFTER_MONTHS, SHOWS_SOURCES = (3, 6), ("mu_lime",)
#: Years until the soil is tested again: umd_lime19 3-4, psu_lawn 3, ncsu_fertqr 2-3.
RETEST_YEARS, RETEST_SOURCES = (2, 4), ("umd_lime19", "psu_lawn", "ncsu_fertqr")
#: Ways of reading a pH that settle nothing: mag_phmeter; kits matched a laboratory in 33 to 94 % (horttech_kit07).
UNRELIABLE_PH_METHODS: Mapping[str, tuple[str, ...]] = {
    "probe_meter": ("mag_phmeter",),
    "colour_kit": ("horttech_kit07",),
    "test_strip": ("horttech_kit07", "from_memory"),
}
CCE_SOURCES = ("psu_lawn", "psu_garden")
MAGNESIUM_SOURCES = ("maryland_lime08", "from_memory")
