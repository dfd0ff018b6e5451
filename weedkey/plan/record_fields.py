"""What the states that were read ask to be written down, posted and kept. A sample, not a survey; no legal advice.

``needs`` names the value of a record that fills a field; a field that no value can fill is written by hand.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RecordField:
    """One field that a rule asks for. ``keys``: the values of the record that fill it (all of them are needed)."""

    name: str
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RecordRule:
    """One rule: who must record what, by when, kept how long. ``state`` empty = federal; ``any`` = good practice.

    ``restricted_only``: only restricted-use pesticides. ``complete`` False: the list read was cut off.
    """

    id: str
    state: str
    applies_to: str
    fields: tuple[RecordField, ...]
    when: str
    keep_years: int | None
    sources: tuple[str, ...]
    restricted_only: bool = False
    complete: bool = True
    mandatory: bool = True


@dataclass(frozen=True, slots=True)
class NoticeRule:
    """A sign, a notice beforehand, a statement to the customer."""

    id: str
    state: str
    kind: str
    who: str
    what: str
    when: str
    sources: tuple[str, ...]


_CUSTOMER = RecordField("customer's name and address", ("customer", "address"))
_PLACE = RecordField("place of the application", ("address",))
_DATE_TIME = RecordField("date and time", ("date", "time"))
_DATE = RecordField("date", ("date",))
_AREA = RecordField("size of the area treated", ("area",))
_TARGET = RecordField("site or plant treated", ("site",))
_PEST = RecordField("target weed", ("weeds",))
_PRODUCT = RecordField("product name on the label", ("product",))
_EPA = RecordField("EPA registration number", ("epa_number",))
_TOTAL = RecordField("total amount of product before mixing", ("total",))
_APPLICATOR = RecordField("applicator's name and certification number", ("applicator", "certificate"))
_NAME = RecordField("applicator's name", ("applicator",))

RECORD_RULES: tuple[RecordRule, ...] = (
    RecordRule(
        "federal_restricted",
        "",
        "commercial certified applicators, restricted-use products",
        (
            _CUSTOMER,
            _PLACE,
            _AREA,
            _TARGET,
            _DATE_TIME,
            _PRODUCT,
            _EPA,
            _TOTAL,
            _APPLICATOR,
            RecordField("names of uncertified people who applied under supervision", ("supervised",)),
        ),
        "each application",
        2,
        ("cfr_171", "cfr_110"),
        restricted_only=True,
    ),
    RecordRule(
        "georgia",
        "GA",
        "licensed contractors, every application",
        (
            _DATE_TIME,
            RecordField("customer", ("customer",)),
            _PLACE,
            _TARGET,
            RecordField("area treated, or total product", ("area",)),
            _PEST,
            RecordField("product and rate", ("product", "rate")),
            RecordField("kind of equipment", ("equipment",)),
            _NAME,
            RecordField("anything unexpected (spill, exposure, drift) and what was done", ("incident",)),
            RecordField("disposal of leftovers", ("disposal",)),
        ),
        "each application",
        2,
        ("ga_rec",),
    ),
    RecordRule(
        "north_carolina",
        "NC",
        "ground applicators, restricted-use products",
        (
            RecordField("licensed applicator", ("applicator", "certificate")),
            _CUSTOMER,
            RecordField("which site", ("address",)),
            _TARGET,
            RecordField("approximate size or number", ("area",)),
            RecordField("date and time of day at the end", ("date", "time")),
            _PRODUCT,
            _EPA,
            RecordField("amount for each unit of area", ("rate",)),
            RecordField("person who applied", ("applicator",)),
        ),
        "within 72 hours; a separate record each day",
        3,
        ("nc_rec",),
        restricted_only=True,
    ),
    RecordRule(
        "tennessee",
        "TN",
        "commercial applicators, every custom application",
        (
            _APPLICATOR,
            _PRODUCT,
            RecordField("address of the application", ("address",)),
            _DATE,
            RecordField("target area", ("site",)),
            _PEST,
            _TOTAL,
            RecordField("dilution in percent", ("dilution",)),
            RecordField("owner's or tenant's name", ("customer",)),
        ),
        "each application; a copy goes to the owner or tenant",
        2,
        ("tn_rec",),
    ),
    RecordRule(
        "south_carolina",
        "SC",
        "firms with licensed commercial applicators",
        (),
        "each application",
        None,
        ("clem_rec", "sc_rec"),
        complete=False,
    ),
    RecordRule(
        "south_dakota",
        "SD",
        "commercial applicators, every product",
        (
            _CUSTOMER,
            _PLACE,
            _PEST,
            _AREA,
            _DATE_TIME,
            _NAME,
            RecordField("trade and common name", ("product", "control")),
            RecordField("company on the label", ("label_company",)),
            RecordField("wind direction and speed, temperature", ("wind", "air_f")),
            RecordField("amount and concentration", ("total", "dilution")),
            _TARGET,
        ),
        "complete at the end of each day",
        3,
        ("sd_rec",),
    ),
    RecordRule(
        "kentucky",
        "KY",
        "lawn applicators for hire, every application",
        (
            RecordField("product or common name", ("control",)),
            RecordField("kind of pesticide", ("kind",)),
            RecordField("reason for use", ("weeds",)),
            RecordField("concentration, rate and gallons of mix", ("dilution", "rate", "mix_gal")),
            RecordField("what the label asks of the customer", ("label_advice",)),
            RecordField("applicator's name and licence number", ("applicator", "certificate")),
            RecordField("customer's name, address, date", ("customer", "address", "date")),
            RecordField("total area treated", ("area",)),
        ),
        "given to the customer at the time, and kept",
        None,
        ("ky_law12", "ky_post"),
    ),
    RecordRule(
        "good_practice",
        "any",
        "worth writing down, asked by no rule",
        (
            RecordField("turf, cultivar, growth state", ("turf", "growth")),
            RecordField("weather at start and end", ("wind", "air_f")),
            RecordField("sprayer output and nozzle, day of calibration", ("output",)),
            RecordField("water and wetting agent in the tank", ("mix_gal",)),
            RecordField("re-entry time told to the customer", ("reentry",)),
            RecordField("sign: where and when", ("sign",)),
            RecordField("weed cover before, and at the next look", ("cover",)),
            RecordField("mode-of-action group", ("group",)),
            RecordField("first day on which seed may go down", ("next_seed",)),
        ),
        "each application",
        None,
        ("common_practice",),
        mandatory=False,
    ),
)

NOTICE_RULES: tuple[NoticeRule, ...] = (
    NoticeRule(
        "georgia_sign",
        "GA",
        "sign",
        "landscape work for hire and others",
        "a sturdy sign of at least 4 x 5 in., contrasting print, lower edge 8 to 12 in. above the ground",
        "at the time of application",
        ("ga_post",),
    ),
    NoticeRule(
        "florida_notice",
        "FL",
        "sign",
        "licensed lawn and ornamental operators",
        "the state's notice in a conspicuous place",
        "at the time of application",
        ("uf_pi6",),
    ),
    NoticeRule(
        "florida_registry",
        "FL",
        "notice beforehand",
        "licensed operators",
        "people on the state's registry next door are told",
        "before the application",
        ("fl_reg",),
    ),
    NoticeRule(
        "kentucky_marker",
        "KY",
        "sign",
        "lawn applicators for hire",
        "a white 4 x 5 in. marker on a support of at least 12 in., letters of at least 3/8 in.",
        "right after the application; removable the next day",
        ("ky_post",),
    ),
    NoticeRule(
        "indiana_flag",
        "IN",
        "sign",
        "turf applicators for hire",
        "a weather-resistant flag of at least 4 x 5 in., letters 3/8 in., 6 to 18 in. above the turf",
        "at the time of application",
        ("in_post",),
    ),
    NoticeRule(
        "indiana_statement",
        "IN",
        "statement",
        "turf applicators for hire",
        "a written statement with business, phone, licence number, date, time and products",
        "at the time of application",
        ("in_post",),
    ),
    NoticeRule(
        "ohio_sign",
        "OH",
        "sign",
        "residential lawns",
        "a waterproof sign of at least 5 x 4 in., lower edge at least 14 in. above the ground",
        "for 24 hours",
        ("oh_post",),
    ),
    NoticeRule(
        "ohio_neighbour",
        "OH",
        "notice beforehand",
        "residential lawns",
        "neighbours next door who asked in writing are told",
        "one business day before",
        ("oh_post",),
    ),
    NoticeRule(
        "rhode_island_list",
        "RI",
        "notice beforehand",
        "turf applicators under agreement",
        "a written list of products before the first application; neighbours may ask for 48 hours' notice",
        "before the application",
        ("ri_note",),
    ),
)
