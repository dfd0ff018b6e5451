"""What the naming screen asks of the parts beneath: the key, other looks, plain words, reasons, taking over."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from weedkey.answers import CARRIED_ABOVE, carried_weeds
from weedkey.kept_regions import regions_of_lawn
from weedkey.key import Standing, Table, build_table, compare, explain_weed, propose_looks
from weedkey.key.decide import NextLook
from weedkey.model.lawn import Look
from weedkey.model.region import Region
from weedkey.model.trace import Step
from weedkey.report.compare_text import compare_text
from weedkey.report.name_text import look_words, reasons_text
from weedkey.report.namer import Namer
from weedkey.tui.parts import ask_cover
from weedkey.tui.screens.ask import AskText
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.screens.pick import PickScreen
from weedkey.tui.widgets.rows import Row

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp


def open_key(app: WeedkeyApp) -> tuple[Table, Mapping[str, Region]]:
    """The key for the lawn in hand and its decision regions."""
    visit = app.visit
    if visit is None or visit.naming is None:
        raise RuntimeError("no naming is open")
    zone = visit.zone(visit.naming_zone)
    regions = regions_of_lawn(app.knowledge, app.lawn_with_history(), zone)
    return build_table(app.knowledge, visit.naming.context), regions


async def ask_other_look(app: WeedkeyApp, standing: Standing) -> NextLook | None:
    """Let the user choose any look; those that help most come first."""
    traits = app.knowledge.traits
    order = [gain.trait for gain in standing.gains if gain.trait in traits]
    order += [trait for trait in traits if trait not in order]
    rows = [Row(trait, traits[trait].question) for trait in order]
    chosen = await app.push_screen_wait(PickScreen("Look at what?", rows))
    if not chosen:
        return None
    trait = traits[chosen]
    why = Step("key.next_look", "no_pair", {"trait": chosen}, trait.sources)
    return NextLook(chosen, trait.question, trait.state_ids, trait.cost_seconds, 0.0, 0.0, why)


async def ask_words(app: WeedkeyApp) -> None:
    """Plain words become looks, each confirmed by hand."""
    text = await app.push_screen_wait(
        AskText("What do you see, in plain words?", "", "words such as: square stem, milky sap", bool)
    )
    if not text or app.visit is None or app.visit.naming is None:
        return
    proposals = propose_looks(app.knowledge, text)
    if not proposals:
        app.notify(f"No look matches {text!r}. Try words such as: three-sided stem, white flower, wet corner.")
        return
    namer = Namer(app.knowledge)
    for proposal in proposals:
        rows = [Row("yes", "yes, I see that"), Row("no", "no"), Row("unsure", "perhaps: count it half")]
        question = f"“{proposal.matched}”: {look_words(proposal.look, namer)}?"
        answer = await app.push_screen_wait(PickScreen(question, rows))
        if answer in ("yes", "unsure"):
            app.visit.naming.answer(Look(proposal.trait, proposal.states, unsure=answer == "unsure"))


def show_why(
    app: WeedkeyApp, table: Table, standing: Standing, regions: Mapping[str, Region], look: NextLook | None
) -> None:
    """A page of reasons: why this look, the looks for and against the likeliest, rivals, what would change it."""
    steps = [explain_weed(table, standing.looks, weed, app.knowledge) for weed, _ in standing.candidates[:2]]
    app.push_screen(
        PageScreen(lambda style: reasons_text(app.knowledge, table, standing, regions or None, steps, look, style))
    )


def show_comparison(app: WeedkeyApp, standing: Standing) -> None:
    """A page with the looks that tell the likeliest plants apart, cheapest first."""
    visit = app.visit
    likely = [weed for weed, belief in standing.candidates[:3] if belief >= CARRIED_ABOVE]
    if visit is None or visit.naming is None or len(likely) < 2:
        app.notify("There are no two likely plants to compare yet.")
        return
    found = compare(app.knowledge, likely, visit.naming.context)
    app.push_screen(PageScreen(lambda style: compare_text(app.knowledge, found, style)))


async def take_over(app: WeedkeyApp, standing: Standing) -> bool:
    """Ask for the cover and write the finding down; False if the user went back."""
    visit = app.visit
    if visit is None:
        return False
    weeds = carried_weeds(standing)
    if not weeds:
        app.notify("This fits nothing here: check the looks, or drop the plant. Nothing would be offered for it.")
        return False
    cover = await ask_cover(app)
    if cover is None:
        return False
    visit.finish_naming(weeds, cover, standing.looks)
    return True
