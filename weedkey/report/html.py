"""One self-contained page: owner's part first, then the operator's, charts of the outlook, print layout.

No script, no picture, no font and no style sheet from elsewhere: the page can be mailed and printed.
"""

from __future__ import annotations

from typing import Any

from weedkey.model.base import Knowledge
from weedkey.plan.outlook import Outlook
from weedkey.plan.results import Plan
from weedkey.plan.starts import Start
from weedkey.report.cautions import standing_cautions
from weedkey.report.charts import outlook_svg
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.report.outlook_text import band_words
from weedkey.report.plan_json import plan_json
from weedkey.report.references import source_line
from weedkey.report.style import VERDICT_WORDS
from weedkey.report.visit_text import finding_words
from weedkey.report.wording import sentence

_PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Plan for {{ name }}</title>
<style>
body { font: 16px/1.45 system-ui, sans-serif; max-width: 46rem; margin: 1rem auto; padding: 0 1rem; color: #111; }
h1 { font-size: 1.5rem; } h2 { font-size: 1.15rem; border-bottom: 1px solid #999; margin-top: 2rem; }
h3 { font-size: 1rem; margin-bottom: .2rem; }
table { border-collapse: collapse; width: 100%; } th, td { border: 1px solid #999; padding: .25rem .4rem;
text-align: left; vertical-align: top; font-size: .9rem; }
.why { color: #444; font-size: .9rem; } .caution { border-left: 4px solid #a00; padding-left: .6rem; }
.chart { width: 100%; height: auto; } .head { font: bold 13px sans-serif; } .tick { font: 10px sans-serif; }
li { margin: .2rem 0; }
@media print { body { font-size: 11pt; max-width: none; margin: 0; } h2 { break-after: avoid; }
.visit, .chart, tr { break-inside: avoid; } .operator { break-before: page; } }
</style></head><body>
<h1>Plan for {{ name }}</h1>
<p>{{ turf }}, {{ start }}</p>
<h2>For the owner</h2>
<ul>{% for text in owner %}<li>{{ text }}</li>{% endfor %}</ul>
{% if charts %}<h2>What to expect</h2>
{% for chart in charts %}{{ chart | safe }}{% endfor %}
<h3>What this assumes</h3><ul>{% for text in assumptions %}<li>{{ text }}</li>{% endfor %}</ul>{% endif %}
<div class="operator"><h2>Visits</h2>
{% for visit in visits %}<div class="visit"><h3>{{ visit.first }} to {{ visit.last }}</h3><ul>
{% for action in visit.actions %}<li><strong>{{ action.name }}</strong> ({{ action.use }}) — {{ action.why }}
{% for ask in action.to_ask %}<div class="why">ask first: {{ ask }}</div>{% endfor %}
{% for caution in action.cautions %}<div class="why">! {{ caution }}</div>{% endfor %}</li>{% endfor %}
</ul></div>{% else %}<p>No visit can be planned from what is known.</p>{% endfor %}
<div class="caution"><h3>Before anything is put down</h3>
<ul>{% for text in cautions %}<li>{{ text }}</li>{% endfor %}</ul></div></div>
<h2>Each weed</h2><table><tr><th>where</th><th>weed</th><th>cover</th><th>verdict</th><th>why</th></tr>
{% for row in findings %}<tr><td>{{ row.zone }}</td><td>{{ row.weed }}</td><td>{{ row.cover }} %</td>
<td>{{ row.kind }}</td><td>{{ row.why }}</td></tr>{% endfor %}</table>
<h2>Repair or start again</h2><p>{{ lawn_kind }}</p>
<ul>{% for text in thresholds %}<li>{{ text }}</li>{% endfor %}</ul>
{% if renovation %}<ul>{% for text in renovation %}<li>{{ text }}</li>{% endfor %}</ul>{% endif %}
{% if starts %}<h2>Start now or wait</h2><table><tr><th>start</th><th>weeds handled</th><th>visits</th>
<th>bare at worst</th><th>turf on the target date</th></tr>
{% for row in starts %}<tr><td>{{ row.start }}</td><td>{{ row.handled }} %</td><td>{{ row.visits }}</td>
<td>{{ row.bare }}</td><td>{{ row.turf }}</td></tr>{% endfor %}</table>{% endif %}
{% if never %}<h2>Never here</h2><ul>{% for row in never %}<li><strong>{{ row.name }}</strong>
{% if row.zones %}(in {{ row.zones | join(", ") }} only){% endif %}: {{ row.reason }}</li>
{% endfor %}</ul>{% endif %}
<h2>Sources</h2><ul>{% for line in sources %}<li class="why">{{ line }}</li>{% endfor %}</ul>
<p class="why">The label in hand is the law and overrides this page. Nothing here is legal advice.</p>
</body></html>
"""


def plan_html(knowledge: Knowledge, plan: Plan, outlooks: list[Outlook], starts: tuple[Start, ...] = ()) -> str:
    """The page as text. Everything typed by the user is escaped."""
    from jinja2 import Environment

    environment = Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True)
    return environment.from_string(_PAGE).render(**_values(knowledge, plan, outlooks, starts))


def _values(knowledge: Knowledge, plan: Plan, outlooks: list[Outlook], starts: tuple[Start, ...]) -> dict[str, Any]:
    namer = Namer(knowledge)
    told = plan_json(knowledge, plan)
    steps = {step.rule: step for outlook in outlooks for step in outlook.assumptions}
    return {
        "name": plan.lawn.name,
        "turf": namer.turf(plan.lawn.turf),
        "start": day_words(plan.start),
        "owner": [row["text"] for row in told["owner"]],
        "charts": [outlook_svg(outlook) for outlook in outlooks],
        "assumptions": [f"{sentence(step, namer)} ({namer.who(step.sources)})" for step in steps.values()],
        "visits": [_visit(row, plan.visits[n].first, plan.visits[n].last) for n, row in enumerate(told["visits"])],
        "cautions": [text for text, _ in standing_cautions()],
        "findings": [
            {
                "zone": row.target.zone,
                "weed": finding_words(row.finding, namer),
                "cover": f"{row.finding.cover_percent:g}",
                "kind": VERDICT_WORDS[row.verdict.kind],
                "why": sentence(row.verdict.trace, namer),
            }
            for row in plan.findings
        ],
        "lawn_kind": plan.lawn_verdict.kind,
        "thresholds": [f"{sentence(step, namer)} ({namer.who(step.sources)})" for step in plan.lawn_verdict.thresholds],
        "renovation": [row["text"] for row in told["renovation"]],
        "starts": [
            {
                "start": day_words(row.start),
                "handled": round(row.handled_percent),
                "visits": row.visits,
                "bare": band_words(row.worst_bare_sqft, "sq ft"),
                "turf": band_words(row.turf_on_target),
            }
            for row in starts
        ],
        "never": told["never"],
        "sources": [source_line(knowledge, source) for source in _sources(told)],
    }


def _visit(row: dict[str, Any], first: Any, last: Any) -> dict[str, Any]:
    return {
        "first": day_words(first),
        "last": day_words(last),
        "actions": [
            {
                "name": action["name"],
                "use": action["use"],
                "why": action["why"],
                "to_ask": [ask["reason"] for ask in action["to_ask"]],
                "cautions": [caution["text"] for caution in action["cautions"]],
            }
            for action in row["actions"]
        ],
    }


def _sources(value: Any) -> list[str]:
    """Every source named anywhere in the plan, once, in the order of mention."""
    found: dict[str, None] = {}

    def walk(item: Any) -> None:
        if isinstance(item, dict):
            for key, inner in item.items():
                if key == "sources" and isinstance(inner, list):
                    found.update(dict.fromkeys(str(source) for source in inner))
                else:
                    walk(inner)
        elif isinstance(item, list):
            for inner in item:
                walk(inner)

    walk(value)
    return list(found)
