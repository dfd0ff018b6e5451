"""The printed key as Markdown and as one plain HTML page for paper: no scripts, no outside files."""

from __future__ import annotations

from calendar import month_name
from collections.abc import Callable, Iterator
from html import escape

from weedkey.key.answers import DOES_NOT_APPLY
from weedkey.key.printed import Couplet, Lead, PrintedKey, StopPoint
from weedkey.model.base import Knowledge
from weedkey.model.drawing import Drawing

#: Weeds named at a stop point; more are counted.
NAMED_WEEDS = 8
NAMED_ACTIONS = 5
#: Width of a drawing on the page, in pixels of the page.
KEY_DRAWING_PX = 64
_STYLE = (
    "body{font:11pt/1.35 serif;max-width:46em;margin:1em auto;padding:0 1em}"
    "h2{font-size:1em;margin:1em 0 .2em;break-after:avoid}ul{margin:0 0 0 1.2em;padding:0}"
    "section{break-inside:avoid}.stop{font-weight:bold}"
    ".drawn{list-style:none;margin-left:-1.2em}.drawing{vertical-align:middle;margin:2px .5em 2px 0}"
    ".symbols{position:absolute;width:0;height:0}"
)


def write_markdown(knowledge: Knowledge, key: PrintedKey) -> str:
    """The key as Markdown text, ending in a line break."""
    lines = [f"# {_title(knowledge, key)}", "", _note(key), ""]
    if key.start is not None:
        lines += [f"**{_stop_text(knowledge, key.start)}**", ""]
    for couplet in key.couplets:
        back = f" (from {couplet.came_from})" if couplet.came_from is not None else ""
        lines.append(f"**{couplet.number}.**{back} {_question(knowledge, couplet)}")
        lines.append("")
        for lead in couplet.leads:
            end = f"go to **{lead.to}**" if lead.stop is None else f"**{_stop_text(knowledge, lead.stop)}**"
            lines.append(f"- {_states(knowledge, couplet, lead)}: {end}")
        lines.append("")
    return "\n".join(lines)


def write_html(knowledge: Knowledge, key: PrintedKey) -> str:
    """The key as one HTML page with links between the numbers."""
    body = [f"<h1>{escape(_title(knowledge, key))}</h1>", f"<p>{escape(_note(key))}</p>"]
    if key.start is not None:
        body.append(f'<p class="stop">{escape(_stop_text(knowledge, key.start))}</p>')
    body.append(_symbols(key))
    body.extend(_couplet_html(knowledge, couplet) for couplet in key.couplets)
    head = f'<meta charset="utf-8"><title>{escape(_title(knowledge, key))}</title><style>{_STYLE}</style>'
    inside = "\n".join(body)
    return f'<!doctype html>\n<html lang="en"><head>{head}</head><body>\n{inside}\n</body></html>\n'


def _couplet_html(knowledge: Knowledge, couplet: Couplet) -> str:
    from weedkey.report.drawing import drawing_use

    lines = []
    for lead in couplet.leads:
        if lead.stop is None:
            end = f'go to <a href="#n{lead.to}">{lead.to}</a>'
        else:
            end = f'<span class="stop">{escape(_stop_text(knowledge, lead.stop))}</span>'
        drawn = dict(_drawn(couplet, lead))
        mark = ' class="drawn"' if drawn else ""
        words = " / ".join(
            (drawing_use(drawn[state], _symbol_name(couplet, state), KEY_DRAWING_PX) if state in drawn else "")
            + escape(text)
            for state, text in zip(lead.states, _state_words(knowledge, couplet, lead), strict=True)
        )
        lines.append(f"<li{mark}>{words}: {end}</li>")
    number = couplet.number
    back = "" if couplet.came_from is None else f' (from <a href="#n{couplet.came_from}">{couplet.came_from}</a>)'
    question = escape(_question(knowledge, couplet))
    return f'<section><h2 id="n{number}">{number}.{back} {question}</h2><ul>{"".join(lines)}</ul></section>'


def _drawn(couplet: Couplet, lead: Lead) -> Iterator[tuple[str, Drawing]]:
    """Each state of one line that is drawn, with its drawing."""
    from weedkey.knowledge.drawings import drawings_of

    found = drawings_of(couplet.trait)
    for state in lead.states:
        drawing = found.of_state(state) if found else None
        if drawing is not None:
            yield state, drawing


def _symbol_name(couplet: Couplet, state: str) -> str:
    return f"d-{couplet.trait}-{state}"


def _symbols(key: PrintedKey) -> str:
    """Each drawing of the key once; the lines refer to it."""
    from weedkey.report.drawing import drawing_symbol

    drawn = {
        _symbol_name(couplet, state): drawing
        for couplet in key.couplets
        for lead in couplet.leads
        for state, drawing in _drawn(couplet, lead)
    }
    symbols = "".join(drawing_symbol(drawing, name) for name, drawing in drawn.items())
    return f'<svg class="symbols" aria-hidden="true">{symbols}</svg>'


def _title(knowledge: Knowledge, key: PrintedKey) -> str:
    turf = knowledge.turfs.get(key.context.turf or "")
    where = f"weeds in {turf.name}" if turf else "lawn weeds"
    when = f", {month_name[key.context.month]}" if key.context.month else ""
    return f"Key to {where}{when}"


def _note(key: PrintedKey) -> str:
    goal = "what to do" if key.by_decision else "the name"
    return (
        f"This key stops at {goal}. It cannot weigh doubt: a wrong answer leads astray. "
        "Where no line fits, the plant is not in this key. The label in hand overrides everything."
    )


def _question(knowledge: Knowledge, couplet: Couplet) -> str:
    trait = knowledge.traits[couplet.trait]
    return f"{trait.question} {trait.how}".strip()


def _states(knowledge: Knowledge, couplet: Couplet, lead: Lead) -> str:
    return " / ".join(_state_words(knowledge, couplet, lead))


def _state_words(knowledge: Knowledge, couplet: Couplet, lead: Lead) -> list[str]:
    words = {state.id: state.words for state in knowledge.traits[couplet.trait].states}
    words[DOES_NOT_APPLY] = "the plant has no such part"
    return [words[state] for state in lead.states]


def _stop_text(knowledge: Knowledge, stop: StopPoint) -> str:
    names = [knowledge.weeds[weed].name for weed in stop.weeds[:NAMED_WEEDS]]
    more = len(stop.weeds) - len(names)
    listed = ", ".join(names) + (f" and {more} more" if more > 0 else "")
    if not stop.actions:
        ends: dict[str, Callable[[], str]] = {
            "name": lambda: listed,
            "short_list": lambda: f"one of: {listed} (not parted any further here)",
        }
        return ends.get(stop.kind, lambda: f"{listed}: {_plain(stop.kind)}")()
    actions = ", ".join(_action_name(knowledge, action) for action in stop.actions[:NAMED_ACTIONS])
    if len(stop.actions) > NAMED_ACTIONS:
        actions += f" and {len(stop.actions) - NAMED_ACTIONS} more"
    same = ", all the same treatment" if len(stop.weeds) > 1 else ""
    return f"{listed}{same}: {_plain(stop.kind)} ({actions})"


def _action_name(knowledge: Knowledge, action: str) -> str:
    name = action.partition(":")[2] or action  # wait_for:halosulfuron
    control = knowledge.controls.get(name)
    return control.name if control else _plain(name)


def _plain(word: str) -> str:
    return word.replace("_", " ")
