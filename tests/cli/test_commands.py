"""Every command answers with its documented keys, exit codes and words."""

from __future__ import annotations

from pathlib import Path

import pytest
from command_cases import Run

from weedkey.cli.main import COMMANDS, build_parser
from weedkey.model.vocabulary import GATE_STATES, TOLERANCES, VERDICTS

ZOYSIA = ("--turf", "zoysiagrass", "--month", "6", "--place", "Murfreesboro")


def test_every_command_has_a_sentence_and_an_example(run: Run) -> None:
    """``weedkey COMMAND --help`` opens with what it does and ends with an example."""
    for command in COMMANDS:
        done = run(command, "--help")
        assert done.code == 0
        assert COMMANDS[command][1][1:] in " ".join(done.out.split()), command
        assert "example" in done.out, command


def test_name_has_the_keys_that_programs_rely_on(run: Run) -> None:
    """Candidates best first, settled, fit, decision, next_look, looks."""
    found = run("name", *ZOYSIA, "--look", "plant_group=sedge", "--json").json
    shares = [row["probability"] for row in found["candidates"]]
    assert shares == sorted(shares, reverse=True)
    assert set(found["candidates"][0]) == {"weed", "name", "probability"}
    assert {"settled", "fit", "decision", "next_look", "looks"} <= set(found)
    assert set(found["decision"]) >= {"kind", "probability", "controls"}
    assert set(found["next_look"]) >= {"trait", "question", "states", "why", "cost_seconds"}
    assert found["looks"] == [{"trait": "plant_group", "states": ["sedge"], "both": False, "unsure": False}]


def test_the_order_of_looks_does_not_matter(run: Run) -> None:
    """The same looks in another order give the same figures to the last digit."""
    looks = ["stem_section=three_sided", "plant_colour=yellow_green", "tubers=single"]
    first = run("name", *ZOYSIA, *(w for look in looks for w in ("--look", look)), "--json").json
    second = run("name", *ZOYSIA, *(w for look in reversed(looks) for w in ("--look", look)), "--json").json
    assert first["candidates"] == second["candidates"]


def test_cannot_tell_is_an_answer(run: Run) -> None:
    """TRAIT=? is taken as can't tell."""
    found = run("name", *ZOYSIA, "--look", "ligule=?", "--json").json
    assert found["looks"][0]["states"] == []


def test_plain_words_are_proposed_and_never_taken_silently(run: Run) -> None:
    """The proposals are talk; no look counts until it is typed."""
    done = run("name", *ZOYSIA, "--words", "three sided stem, wet corner", "--json")
    assert done.json["looks"] == []
    assert "stem_section=three_sided" in done.err
    assert "moisture=wet" in done.err


def test_words_that_match_nothing_are_said(run: Run) -> None:
    """No match is said plainly, with what to write."""
    done = run("name", *ZOYSIA, "--words", "xylophone")
    assert done.code == 2
    assert "no look matches" in done.err


def test_choices_has_the_keys_that_programs_rely_on(run: Run) -> None:
    """Verdict and every choice with all its gates, shut ones too."""
    found = run("choices", "goosegrass", "--turf", "bermudagrass", "--month", "7", "--place", "Macon", "--json").json
    assert found["weed"] == "goosegrass"
    assert found["verdict"]["kind"] in VERDICTS
    assert {"why", "second_best", "would_change"} <= set(found["verdict"])
    for choice in found["choices"]:
        assert {"control", "name", "class", "offered", "result", "tolerance", "gates"} <= set(choice)
        assert choice["tolerance"] in TOLERANCES
        for gate in choice["gates"]:
            assert set(gate) >= {"gate", "state", "reason", "sources"}
            assert gate["state"] in GATE_STATES
    assert any(not choice["offered"] for choice in found["choices"])


def test_an_unsettled_set_is_typed_with_shares(run: Run) -> None:
    """Weeds holds the shares; the sum is 1."""
    words = ("choices", "yellow_nutsedge=0.6", "green_kyllinga=0.4", *ZOYSIA, "--json")
    found = run(*words).json
    assert sum(found["weeds"].values()) == pytest.approx(1)


def test_turf_lists_every_chemical_control_once(run: Run) -> None:
    """Tolerance is one of five words; the arsenical is not labelled on a home lawn.

    Source: University of Georgia, MSMA use changes, 2009 (uga_msma09).
    """
    found = run("turf", "bermudagrass", "--month", "6", "--json").json
    names = [row["control"] for row in found["controls"]]
    assert len(names) == len(set(names))
    assert {row["tolerance"] for row in found["controls"]} <= set(TOLERANCES)
    by_id = {row["control"]: row for row in found["controls"]}
    assert by_id["msma"]["tolerance"] == "not_labelled"
    assert by_id["sethoxydim"]["tolerance"] == "injures"  # Weed Technology 1987, Tifway nearly eliminated


def test_ground_has_the_keys_that_programs_rely_on(run: Run) -> None:
    """Zones with prevalence_index and conditions; the probe that fails counts as measured."""
    found = run("ground", "demo:tennessee_zoysiagrass", "--json").json
    zones = {zone["zone"]: zone for zone in found["zones"]}
    compacted = next(c for c in zones["drive edge"]["conditions"] if c["condition"] == "compacted")
    assert compacted["evidence"] == "measured"
    assert {"condition", "evidence", "signs", "against", "test", "remedy"} <= set(compacted)
    assert "prevalence_index" in zones["downspout"]


def test_plan_has_the_keys_that_programs_rely_on(run: Run) -> None:
    """verdicts, lawn_verdict, visits, never, owner, unsettled."""
    found = run("plan", "demo:tennessee_zoysiagrass", "--json").json
    assert {"verdicts", "lawn_verdict", "visits", "never", "owner", "unsettled"} <= set(found)
    for visit in found["visits"]:
        assert visit["from"] <= visit["to"]
        for action in visit["actions"]:
            assert set(action) >= {"control", "on", "why", "cautions"}
    assert all(set(row) >= {"control", "gate", "reason"} for row in found["never"])


def test_an_application_never_stands_without_its_cautions(run: Run) -> None:
    """Label, licence, children and pets, water, trees, heat and wind are named where something is proposed."""
    text = " ".join(run("plan", "demo:gulf_centipedegrass").out.split())
    for word in (
        "label in hand is the law",
        "licence",
        "gloves",
        "Children and pets",
        "wells",
        "trees",
        "90 °F",
        "Wind",
    ):
        assert word in text


@pytest.mark.parametrize("name", ["GOOSEGRASS", "goose-grass", "Eleusine indica", "goosegrasses"])
def test_a_name_is_found_in_any_common_spelling(run: Run, name: str) -> None:
    """Case, hyphen, plural and scientific names lead to the same entry."""
    assert run("weed", name, "--json").json["id"] == "goosegrass"


def test_an_unknown_name_lists_the_nearest(run: Run) -> None:
    """A slip of the finger is met with "did you mean"."""
    done = run("weed", "gosegrass")
    assert done.code == 2
    assert "Did you mean" in done.err
    assert "goosegrass" in done.err


def test_a_town_without_a_climate_of_its_own_is_told_the_nearest(run: Run) -> None:
    """Nobody who lives in Atlanta knows that Griffin stands for it."""
    done = run("spot", "6", "--turf", "bermudagrass", "--place", "Atlanta")
    assert done.code == 2
    assert "Griffin, Georgia (Atlanta, Georgia, about 35 miles away)" in " ".join(done.err.split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("choices", "goosegrass", "--turf", "bermudagrass", "--month", "13"), "1 to 12"),
        (("choices", "goosegrass", "--turf", "bermudagrass", "--date", "2026-02-30"), "a day that exists"),
        (("choices", "goosegrass", "--turf", "bermudagrass", "--cover", "140"), "0 to 100"),
        (("choices", "goosegrass", "--turf", "bermuda gras"), "Did you mean"),
        (("choices", "goosegrass", "--turf", "bermudagrass", "--site", "moon"), "home_lawn"),
        (("name", "--look", "ligule"), "TRAIT=STATE"),
        (("name", "--look", "ligule=purple"), "membrane"),
        (("spot", "-3", "--turf", "zoysiagrass", "--place", "Macon"), "above 0"),
        (("plan", "no-such-file.yaml"), "no such file"),
        (("demo", "atlantis"), "tennessee_zoysiagrass"),
    ],
    ids=lambda value: value[0] + value[-1] if isinstance(value, tuple) else "",
)
def test_what_cannot_be_is_refused_with_what_is_accepted(run: Run, words: tuple[str, ...], said: str) -> None:
    """Exit code 2 and the accepted values, on standard error; standard output stays empty."""
    done = run(*words)
    assert done.code == 2
    assert said in done.err
    assert done.out == ""


def test_every_problem_of_a_lawn_file_is_listed_with_its_line(run: Run, tmp_path: Path) -> None:
    """Cover over 100 %, a day that does not exist, pH 15, negative area: all of them, and nothing is written."""
    lawn = tmp_path / "bad.yaml"
    lawn.write_text(
        "name: bad\ndate: '2026-02-30'\nsite: home_lawn\nturf: zoysiagrass\n"
        "measured:\n  - {what: soil_ph, value: 15, method: laboratory}\n"
        "zones:\n  - name: a\n    area_sqft: -5\n    weeds:\n      - {weed: goosegras, cover: 140}\n",
        encoding="utf-8",
    )
    before = sorted(tmp_path.rglob("*"))
    done = run("plan", str(lawn))
    assert done.code == 2
    for line in ("bad.yaml:2", "bad.yaml:6", "bad.yaml:9", "bad.yaml:11"):
        assert line in done.err
    assert "goosegrass" in done.err
    assert sorted(tmp_path.rglob("*")) == before


def test_a_demo_lawn_is_copied_once(run: Run, tmp_path: Path) -> None:
    """An existing file is never overwritten."""
    target = tmp_path / "mine.yaml"
    assert run("demo", "gulf_centipedegrass", "--copy", str(target)).code == 0
    assert run("demo", "gulf_centipedegrass", "--copy", str(target)).code == 2


def test_a_condition_names_its_weeds_by_evidence(run: Run) -> None:
    """Goosegrass leads the signs of compaction: nine sources say so (shared by several universities)."""
    found = run("sign", "compacted", "--json").json
    strengths = [row["strength"] for row in found["weeds"]]
    assert strengths == sorted(strengths, reverse=True)
    assert "goosegrass" in [row["weed"] for row in found["weeds"][:5]]


def test_the_completion_script_knows_every_command(run: Run) -> None:
    """Made from the parser, so it cannot forget one."""
    for shell in ("bash", "zsh", "fish"):
        text = run("completion", shell).out
        assert all(command in text for command in COMMANDS)


def test_version_and_bare_help(run: Run) -> None:
    """--version and --help leave with 0."""
    assert run("--version").out.startswith("weedkey ")
    assert "exit codes" in run("--help").out


def test_the_parser_of_every_command_can_be_built() -> None:
    """No two commands fight over an option."""
    assert build_parser(every=True).prog == "weedkey"


def test_demo_lists_each_lawn_with_its_name_and_what_to_type_next(run: Run) -> None:
    """A user who types ``weedkey demo`` sees what there is and how to go on."""
    lines = run("demo").out.splitlines()
    assert any(line.startswith("demo:gulf_centipedegrass ") and "Gulf coast centipedegrass" in line for line in lines)
    assert "weedkey plan demo:NAME" in lines[-1]


def test_check_with_a_turf_compares_every_pair_that_is_treated_differently_there(run: Run) -> None:
    """Not only declared look-alikes: moneywort and thymeleaf speedwell are none, yet treated differently."""
    declared = run("check", "--warnings").out
    there = run("check", "--turf", "tall_fescue", "--month", "may", "--warnings").out
    assert "moneywort and thymeleaf_speedwell are told apart only by" not in declared
    assert "moneywort and thymeleaf_speedwell are told apart only by" in there


def test_name_gives_its_reasons_on_the_command_line_as_well(run: Run) -> None:
    """Why this look, for and against, the rivals, and the look that most hangs on, in one answer."""
    text = run("name", "--turf", "zoysiagrass", "--month", "june", "--look", "plant_group=sedge", "--reasons").out
    for heading in ("Why this look", "For and against", "What else it could be", "Are you sure?"):
        assert heading in text, heading
