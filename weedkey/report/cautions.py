"""The cautions that stand wherever an application is proposed, whatever the control."""

from __future__ import annotations

from weedkey.model.control import Control

#: (text, sources): shown in this order before any caution of a single control.
STANDING: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "The label in hand is the law and overrides everything here: turf, site, dose, interval, yearly maximum,"
        " re-entry. A higher dose or a site that is not listed is never allowed.",
        ("epa_label", "epa_lrm1", "uky_law16"),
    ),
    (
        "Anyone paid to apply a weed killer, even a general-use one, needs a licence in many states; ask your state"
        " and city first. Local rules may forbid more than the label does.",
        ("nc_lic", "clem_lic"),
    ),
    (
        "Wear the gloves, eye-wear and clothing that the label names; read its first-aid line first.",
        ("epa_label",),
    ),
    (
        "Children and pets stay off until the spray has dried, longer if the label says so; bring toys and bowls in.",
        ("osu_pet16", "common_practice"),
    ),
    (
        "Keep spray and granules off ponds, drains, wells, pavement, beds, and the roots of trees and shrubs;"
        " roots reach at least as far as the tree is tall.",
        ("udel_tree08", "common_practice"),
    ),
    (
        "Not above the label's temperature ceiling (often 85 to 90 °F), not in drought, not at green-up.",
        ("clem_safeapp", "uga_spring19"),
    ),
    (
        "Wind 3 to 8 mph and away from sensitive plants, unless the label differs; calm mornings and evenings can"
        " hold an inversion in which droplets travel far.",
        ("pes_weather",),
    ),
    ("Mow weeds that are in flower first, so that bees are not drawn in.", ("uga_bees",)),
)


def standing_cautions() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The cautions that every application carries, each with its sources."""
    return STANDING


def action_cautions(control: Control | None) -> list[tuple[str, tuple[str, ...]]]:
    """The cautions of one control, after the standing ones if it carries a label."""
    if control is None:
        return []
    own = [(f"{caution.about.replace('_', ' ')}: {caution.text}", caution.sources) for caution in control.cautions]
    return [*STANDING, *own] if control.is_chemical else own
