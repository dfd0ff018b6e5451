# ruff: noqa: E501 - rows of YAML are not broken
"""A small knowledge written out as YAML files: big enough for every rule, small enough to read."""

from __future__ import annotations

from pathlib import Path

SOURCES = """\
# yaml-language-server: $schema=schema/sources.schema.json
sources:
  - {id: uni_weeds, institution: A state university, title: Weeds of lawns, year: "2015"}
  - {id: uni_turf, institution: A state university, title: Turf and its controls, year: "2019"}
"""

TRAITS = """\
# yaml-language-server: $schema=schema/traits.schema.json
traits:
  - id: plant_group
    question: "What kind of plant is it?"
    part: whole plant
    groups: [grassy, sedge, broadleaf]
    needs: eyes
    cost_seconds: 3
    misread: 0.03
    states:
      - {id: grassy, words: a grass, also: [blade]}
      - {id: sedge, words: a sedge}
      - {id: broadleaf, words: a broad-leaved plant}
    sources: [uni_weeds]
  - id: stem_section
    question: "Roll a stem: what is its shape?"
    part: stem
    groups: [grassy, sedge, broadleaf]
    needs: shoot
    cost_seconds: 5
    misread: 0.05
    states:
      - {id: round, words: round}
      - {id: flattened, words: flattened like a ribbon}
      - {id: three_sided, words: three-sided}
    sources: [uni_weeds]
  - id: ligule
    question: "What stands where the leaf leaves the stem?"
    part: ligule
    groups: [grassy]
    needs: lens
    cost_seconds: 15
    misread: 0.1
    states:
      - {id: membrane, words: a thin skin}
      - {id: hairs, words: a row of hairs}
    sources: [uni_weeds]
  - id: leaf_type
    question: "Is the leaf one blade or several leaflets?"
    part: leaf
    groups: [broadleaf]
    needs: eyes
    cost_seconds: 2
    misread: 0.05
    states:
      - {id: simple, words: one blade}
      - {id: three_leaflets, words: three leaflets}
    sources: [uni_weeds]
  - id: leaflet_shape
    question: "What shape are the leaflets?"
    part: leaf
    groups: [broadleaf]
    needs: eyes
    cost_seconds: 3
    misread: 0.05
    asked_if: {trait: leaf_type, states: [three_leaflets]}
    states:
      - {id: heart, words: heart}
      - {id: egg, words: egg}
    sources: [uni_weeds]
  - id: tubers
    question: "Dig: are there tubers?"
    part: roots
    groups: [sedge]
    needs: trowel
    cost_seconds: 90
    misread: 0.1
    mown: always
    states:
      - {id: single, words: single tubers at the ends}
      - {id: chained, words: tubers in a chain}
    sources: [uni_weeds]
"""

CONDITIONS = """\
# yaml-language-server: $schema=schema/conditions.schema.json
conditions:
  - id: compacted
    name: compacted soil
    words: the soil is hard
    measurements:
      - {what: probe_test, unit: word, yes_words: [fails], no_words: [passes], sources: [common_practice]}
    remedies:
      - {control: core_aeration, why: it opens the soil, sources: [uni_turf]}
    sources: [uni_turf]
"""

TURFS = {
    "zoysiagrass": """\
# yaml-language-server: $schema=../schema/turf.schema.json
id: zoysiagrass
name: zoysiagrass
scientific: Zoysia japonica
season: warm
habit: [stolons, rhizomes]
mowing_in:
  - {low: 1, high: 2.5, unit: in, sources: [uni_turf]}
cultivars:
  - {id: meyer, name: Meyer, sources: [uni_turf]}
sources: [uni_turf]
""",
    "tall_fescue": """\
# yaml-language-server: $schema=../schema/turf.schema.json
id: tall_fescue
name: tall fescue
scientific: Lolium arundinaceum
season: cool
habit: [bunch]
sources: [uni_turf]
""",
}

CONTROLS = {
    "2_4_d": """\
# yaml-language-server: $schema=../schema/control.schema.json
id: 2_4_d
name: 2,4-D
kind: selective
class: {hrac: "4", wssa: "4", mode: synthetic auxin, sources: [from_memory]}
timings: [post_emergence]
tolerance:
  - {turf: zoysiagrass, result: safe, when: {growth: [growing], stand: [established]}, sources: [uni_turf]}
  - {turf: zoysiagrass, result: injures, when: {growth: [green_up], months: [[3, 4]], air_above_f: 90}, sources: [uni_turf]}
sources: [uni_turf]
""",
    "dicamba": """\
# yaml-language-server: $schema=../schema/control.schema.json
id: dicamba
name: dicamba
kind: selective
class: {hrac: "4", wssa: "4", mode: synthetic auxin, sources: [from_memory]}
sources: [uni_turf]
""",
    "2_4_d_plus_dicamba": """\
# yaml-language-server: $schema=../schema/control.schema.json
id: 2_4_d_plus_dicamba
name: 2,4-D + dicamba
kind: selective
parts: [2_4_d, dicamba]
not_known: [tall_fescue]
sources: [uni_turf]
""",
    "core_aeration": """\
# yaml-language-server: $schema=../schema/control.schema.json
id: core_aeration
name: core aeration
kind: soil
also_called: [coring]
remedies: [compacted]
sources: [uni_turf]
""",
}

PLACES = {
    "murfreesboro_tn": """\
# yaml-language-server: $schema=../schema/place.schema.json
id: murfreesboro_tn
name: Murfreesboro, Tennessee
region: transition
latitude: 35.85
longitude: -86.39
state: TN
monthly:
  high_f: [48, 53, 62, 72, 79, 86, 90, 89, 83, 73, 61, 51]
  low_f: [28, 31, 38, 46, 56, 64, 68, 66, 59, 47, 38, 31]
frost:
  - {event: last_spring, date: "04-18", basis: mean, sources: [uni_turf]}
sources: [uni_turf]
""",
}

WEEDS = {
    "goosegrass": """\
# yaml-language-server: $schema=../schema/weed.schema.json
id: goosegrass
name: goosegrass
scientific: Eleusine indica
family: Poaceae
group: grassy
growth_season: warm
life_cycle:
  - {kind: summer_annual, sources: [uni_weeds]}
looks:
  plant_group: [{state: grassy, sources: [uni_weeds]}]
  stem_section: [{state: flattened, often: usually, sources: [uni_weeds]}, {state: round, often: rarely, sources: [from_memory]}]
  ligule: [{state: membrane, share: 0.9, sources: [uni_weeds]}]
also_called: [silver crabgrass]
codes:
  - {kind: usda, value: ELIN3, sources: [from_memory]}
regions:
  - {region: transition, how: common, sources: [uni_weeds]}
calendar:
  - {germinates: [[4, 7]], active: [["05-01", "10-15"]], flowers: [[6, 9]], dies: frost, germinates_soil_f: [60, 65], sources: [uni_weeds]}
spread: {by: [seed], sources: [uni_weeds]}
signs:
  - {condition: compacted, strength: strong, sources: [uni_weeds]}
responses:
  - {control: 2_4_d, result: none, percent: [0, 5], months: [[6, 7]], year: "2015", sources: [uni_weeds]}
look_alikes:
  - {weed: bermudagrass_weed, tell: the ligule is a row of hairs, traits: [ligule], sources: [from_memory]}
nuisance: 3
""",
    "bermudagrass_weed": """\
# yaml-language-server: $schema=../schema/weed.schema.json
id: bermudagrass_weed
name: bermudagrass
scientific: Cynodon dactylon
family: Poaceae
group: grassy
growth_season: warm
life_cycle:
  - {kind: perennial, sources: [uni_weeds]}
looks:
  plant_group: [{state: grassy, sources: [uni_weeds]}]
  stem_section: [{state: round, sources: [uni_weeds]}]
  ligule: [{state: hairs, sources: [uni_weeds]}]
also_called: [wiregrass]
""",
    "yellow_nutsedge": """\
# yaml-language-server: $schema=../schema/weed.schema.json
id: yellow_nutsedge
name: yellow nutsedge
scientific: Cyperus esculentus
family: Cyperaceae
group: sedge
growth_season: warm
life_cycle:
  - {kind: perennial, sources: [uni_weeds]}
looks:
  plant_group: [{state: sedge, sources: [uni_weeds]}]
  stem_section: [{state: three_sided, sources: [uni_weeds]}]
  tubers: [{state: single, sources: [uni_weeds]}]
also_called: [nutgrass]
look_alikes:
  - {weed: purple_nutsedge, tell: the tubers hang singly, traits: [tubers], sources: [uni_weeds]}
""",
    "purple_nutsedge": """\
# yaml-language-server: $schema=../schema/weed.schema.json
id: purple_nutsedge
name: purple nutsedge
scientific: Cyperus rotundus
family: Cyperaceae
group: sedge
growth_season: warm
life_cycle:
  - {kind: perennial, sources: [uni_weeds]}
looks:
  plant_group: [{state: sedge, sources: [uni_weeds]}]
  stem_section: [{state: three_sided, sources: [uni_weeds]}]
  tubers: [{state: chained, sources: [uni_weeds]}]
also_called: [nutgrass]
""",
    "white_clover": """\
# yaml-language-server: $schema=../schema/weed.schema.json
id: white_clover
name: white clover
scientific: Trifolium repens
family: Fabaceae
group: broadleaf
growth_season: cool
life_cycle:
  - {kind: perennial, sources: [uni_weeds]}
looks:
  plant_group: [{state: broadleaf, sources: [uni_weeds]}]
  leaf_type: [{state: three_leaflets, sources: [uni_weeds]}]
  leaflet_shape: [{state: egg, sources: [uni_weeds]}]
former_scientific: [Trifolium nigrescens repens]
""",
    "tall_fescue_clump": """\
# yaml-language-server: $schema=../schema/weed.schema.json
id: tall_fescue_clump
name: tall fescue clump
scientific: Lolium arundinaceum
family: Poaceae
group: grassy
growth_season: cool
turf: tall_fescue
life_cycle:
  - {kind: perennial, sources: [uni_weeds]}
looks:
  plant_group: [{state: grassy, sources: [uni_weeds]}]
""",
}

FOLDERS = {"turfs": TURFS, "controls": CONTROLS, "places": PLACES, "weeds": WEEDS}


def write_knowledge(root: Path) -> Path:
    """Write the small knowledge below ``root`` and return it."""
    for name, text in (("sources", SOURCES), ("traits", TRAITS), ("conditions", CONDITIONS)):
        (root / f"{name}.yaml").write_text(text, encoding="utf-8")
    for folder, entries in FOLDERS.items():
        (root / folder).mkdir(parents=True, exist_ok=True)
        for name, text in entries.items():
            (root / folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return root


def edit(file: Path, old: str, new: str) -> None:
    """Replace one text in a file; the text must stand there exactly once, so that a case cannot go stale unseen."""
    text = file.read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {file.name}"
    file.write_text(text.replace(old, new), encoding="utf-8")
