"""Entropy, information and the bounds that no run can beat, against outside figures (sections A and B)."""

from __future__ import annotations

import heapq
import math
import random
from collections import Counter

import numpy as np
import pytest
from key_cases import exact_table, make_trait
from scipy.stats import entropy as scipy_entropy
from sklearn.metrics import mutual_info_score
from sklearn.tree import DecisionTreeClassifier

from weedkey.key import build_table_from_rows, judge
from weedkey.key.score import entropy_bits, find_information
from weedkey.model.lawn import Look

# Source: Quinlan 1986, Machine Learning 1:81-106 (from memory); rows of weather.nominal.arff, Debian weka 3.6.14-3.
WEATHER = """
sunny hot high no no; sunny hot high yes no; overcast hot high no yes; rainy mild high no yes
rainy cool normal no yes; rainy cool normal yes no; overcast cool normal yes yes; sunny mild high no no
sunny cool normal no yes; rainy mild normal no yes; sunny mild normal yes yes; overcast mild high yes yes
overcast hot normal no yes; rainy mild high yes no
"""
WEATHER_NAMES = ("outlook", "temperature", "humidity", "windy")


def weather_rows():
    """The weather table: four attributes and the class, row by row."""
    return [tuple(row.split()) for line in WEATHER.strip().splitlines() for row in line.split(";")]


def lens_rows():
    """The 24 rows of the contact lens table from its rules (Cendrowska 1987, complete factorial)."""
    rows = []
    for age in ("young", "pre", "old"):
        for sight in ("myope", "hypermetrope"):
            for astigmatic in ("no", "yes"):
                for tears in ("reduced", "normal"):
                    if tears == "reduced" or (age == "old" and sight == "myope" and astigmatic == "no"):
                        lens = "none"
                    elif astigmatic == "no":
                        lens = "soft"
                    else:
                        lens = "hard" if sight == "myope" or age == "young" else "none"
                    rows.append((age, sight, astigmatic, tears, lens))
    return rows


def class_table(rows):
    """A table of classes (the last column) with the observed answer frequencies as chances."""
    classes = Counter(row[-1] for row in rows)
    traits, chances = {}, {}
    for place in range(len(rows[0]) - 1):
        states = sorted({row[place] for row in rows})
        traits[f"t{place}"] = make_trait(f"t{place}", states)
        chances[f"t{place}"] = {
            name: [sum(row[place] == state and row[-1] == name for row in rows) / count for state in states]
            for name, count in classes.items()
        }
    return build_table_from_rows({name: float(count) for name, count in classes.items()}, traits, chances)


def information(table, trait):
    """Bits that a look tells of the taxon, by the function of the key."""
    return find_information(table.column(trait), range(len(table.taxa)), table.prior)


@pytest.mark.parametrize(
    ("weights", "expected"),
    [
        ((0.5, 0.25, 0.125, 0.125), 1.75),
        # Source: the textbook Huffman example (MacKay; Cover & Thomas), from memory.
        ((0.25, 0.25, 0.2, 0.15, 0.15), 2.2855),
    ],
)
def test_entropy_of_textbook_distributions(weights, expected):
    """A1, A2: entropy agrees with the textbook and with scipy.stats.entropy."""
    assert entropy_bits(weights) == pytest.approx(expected, abs=1e-4)
    assert entropy_bits(weights) == pytest.approx(float(scipy_entropy(weights, base=2)), abs=1e-12)


def test_weather_table():
    """A3, A6: class entropy, gains and first question of the weather table; entropy equals a scikit-learn tree's."""
    rows = weather_rows()
    table = class_table(rows)
    gains = {name: information(table, f"t{place}") for place, name in enumerate(WEATHER_NAMES)}
    assert entropy_bits(table.prior) == pytest.approx(0.9403, abs=1e-4)
    # Source: Quinlan 1986 (0.246, 0.151, 0.048, 0.029 as printed, from memory).
    expected = {"outlook": 0.2467, "humidity": 0.1518, "windy": 0.0481, "temperature": 0.0292}
    assert gains == pytest.approx(expected, abs=1e-4)
    assert max(gains, key=gains.get) == "outlook"
    codes = np.array([[hash(value) % 1000 for value in row[:-1]] for row in rows])
    tree = DecisionTreeClassifier(criterion="entropy").fit(codes, [row[-1] for row in rows])
    assert entropy_bits(table.prior) == pytest.approx(float(tree.tree_.impurity[0]), abs=1e-9)


def test_contact_lenses():
    """A4: entropy and gains of the contact lens table; the tear rate comes first."""
    rows = lens_rows()
    assert Counter(row[-1] for row in rows) == {"none": 15, "soft": 5, "hard": 4}
    table = class_table(rows)
    gains = [information(table, f"t{place}") for place in range(4)]
    assert entropy_bits(table.prior) == pytest.approx(1.3261, abs=1e-4)
    # Source: sklearn.metrics.mutual_info_score / ln 2 on the data of Cendrowska 1987.
    assert gains == pytest.approx([0.0394, 0.0395, 0.3770, 0.5488], abs=1e-4)


def test_information_equals_scikit_learn():
    """A5: on random tables the information equals sklearn.metrics.mutual_info_score / ln 2 to 1e-9."""
    draw = random.Random(5)
    for _ in range(10):
        rows = [tuple(draw.choice("abcd") for _ in range(4)) for _ in range(60)]
        table = class_table(rows)
        for place in range(3):
            outside = mutual_info_score([row[place] for row in rows], [row[-1] for row in rows]) / math.log(2)
            assert information(table, f"t{place}") == pytest.approx(outside, abs=1e-9)


def test_twelve_balls():
    """A9, A10: weighing 4 against 4 tells most of the odd ball, log2 3 bits; three weighings are the least."""
    # Source: MacKay, Information Theory, Inference and Learning Algorithms, exercise 4.1; values recomputed.
    balls = [(ball, sign) for ball in range(12) for sign in ("heavy", "light")]
    taxa = {}
    for ball, sign in balls:
        falls = "left" if sign == "heavy" else "right"
        rises = "right" if sign == "heavy" else "left"
        taxa[f"{ball}{sign}"] = [falls if ball < k else rises if ball < 2 * k else "even" for k in range(1, 7)]
    table = exact_table(taxa)
    found = [information(table, f"t{place}") for place in range(6)]
    assert found == pytest.approx([0.8167, 1.2516, 1.5, 1.5850, 1.4834, 1.0], abs=1e-4)
    assert max(range(6), key=found.__getitem__) == 3
    assert math.ceil(entropy_bits(table.prior) / found[3]) == 3


def huffman_questions(weights, answers):
    """Mean number of questions of the best tree with ``answers`` branches (padded with empty leaves)."""
    heap = sorted(weights)
    while (len(heap) - 1) % (answers - 1):
        heap.insert(0, 0.0)
    heapq.heapify(heap)
    total = 0.0
    while len(heap) > 1:
        merged = sum(heapq.heappop(heap) for _ in range(answers))
        total += merged
        heapq.heappush(heap, merged)
    return total


def test_huffman_costs():
    """B1-B3: the bound used below has the textbook values."""
    # Source: textbook example as above; uniform cases recomputed.
    example = [0.25, 0.25, 0.2, 0.15, 0.15]
    assert [huffman_questions(example, k) for k in (2, 3)] == pytest.approx([2.30, 1.50])
    assert huffman_questions([0.2] * 5, 2) == pytest.approx(2.4)
    found = [huffman_questions([1 / 150] * 150, k) for k in (2, 3, 4, 5)]
    assert found == pytest.approx([7.2933, 4.6933, 3.7667, 3.2133], abs=1e-4)


def count_questions(table, taxa, taxon):
    """Looks until one taxon is left, answering exactly; None if the traits do not part it."""
    looks = []
    while True:
        standing = judge(table, looks)
        if standing.candidates[0][1] > 0.999:
            return len(looks)
        if standing.could_ask is None:
            return None
        trait = standing.could_ask.trait
        looks.append(Look(trait, (taxa[taxon][int(trait[1:])],)))


def test_runs_respect_the_bounds():
    """B4: no run to the end beats Shannon, Huffman or Kraft."""
    # Source: Shannon 1948; Huffman 1952; Kraft's inequality.
    draw = random.Random(4)
    for _ in range(6):
        codes = {tuple(draw.choice("abc") for _ in range(6)) for _ in range(14)}
        taxa = {f"w{place}": list(code) for place, code in enumerate(sorted(codes))}
        weights = [draw.random() for _ in taxa]
        prior = {taxon: weight / sum(weights) for taxon, weight in zip(taxa, weights, strict=True)}
        table = exact_table(taxa, prior)
        depths = {taxon: count_questions(table, taxa, taxon) for taxon in taxa}
        mean = sum(prior[taxon] * depth for taxon, depth in depths.items())
        assert mean >= entropy_bits(prior.values()) / math.log2(3) - 1e-9
        assert mean >= huffman_questions(list(prior.values()), 3) - 1e-9
        assert sum(3.0**-depth for depth in depths.values()) <= 1 + 1e-9


def test_eight_taxa_three_characters():
    """B5: eight taxa and three perfect yes/no looks need exactly three looks of one bit each."""
    taxa = {f"w{number}": list(f"{number:03b}") for number in range(8)}
    table = exact_table(taxa)
    assert [information(table, f"t{place}") for place in range(3)] == pytest.approx([1.0] * 3, abs=1e-9)
    assert {count_questions(table, taxa, taxon) for taxon in taxa} == {3}


def test_information_is_bounded():
    """B6: information lies between 0 and the least of H(taxon) and log2 k, and merging taxa never adds any."""
    # Source: data-processing inequality.
    draw = random.Random(6)
    for _ in range(20):
        states = draw.randint(2, 5)
        trait = make_trait("t0", [f"s{place}" for place in range(states)])
        rows = {}
        for number in range(8):
            weights = [draw.random() for _ in range(states)]
            rows[f"w{number}"] = [weight / sum(weights) for weight in weights]
        prior = {name: draw.random() for name in rows}
        table = build_table_from_rows(prior, {"t0": trait}, {"t0": rows})
        bits = information(table, "t0")
        assert 0 <= bits <= min(entropy_bits(table.prior), math.log2(states)) + 1e-9
        halves = {"a": list(rows)[:4], "b": list(rows)[4:]}
        merged_prior = {half: sum(prior[name] for name in names) for half, names in halves.items()}
        merged = {
            half: [
                sum(prior[name] * rows[name][place] for name in names) / merged_prior[half] for place in range(states)
            ]
            for half, names in halves.items()
        }
        coarse = build_table_from_rows(merged_prior, {"t0": trait}, {"t0": merged})
        assert information(coarse, "t0") <= bits + 1e-9


@pytest.mark.parametrize(
    ("states", "error", "expected"),
    [(2, 0.1, 0.5310), (2, 0.05, 0.7136), (2, 0.2, 0.2781), (3, 0.1, 1.0160), (4, 0.1, 1.3725), (5, 0.1, 1.6529)],
)
def test_wrong_answers_cap_the_information(states, error, expected):
    """B7, B8: with wrong answers an even split carries the capacity of the symmetric channel."""
    # Source: capacity of the (k-ary) symmetric channel, log2 k - h(e) - e log2(k - 1); recomputed.
    trait = make_trait("t0", [f"s{place}" for place in range(states)])
    rows = {
        f"w{taxon}": [1 - error if place == taxon else error / (states - 1) for place in range(states)]
        for taxon in range(states)
    }
    table = build_table_from_rows(dict.fromkeys(rows, 1.0), {"t0": trait}, {"t0": rows})
    assert information(table, "t0") == pytest.approx(expected, abs=1e-4)
