"""What cannot be computed is refused by kind, whatever the operation; a missing height is left out and named."""

import copy
import json

import numpy as np

from ask import asked, operations, told

GRID = [[x * 300.0, y * 300.0, 0.1 * x * y] for y in range(3) for x in range(4)]
SQUARE = [[0, 0], [900, 0], [900, 600], [0, 600]]
WATER = {"points": GRID, "drain": {"vertices": [0]}, "minimum_fall": 0.0125, "maximum_fall": 0.02, "rule": "path"}
JOIST = {
    "id": "J1",
    "x": 0.0,
    "tops": [0.0, 2.0, 1.0],
    "kind": "sawn",
    "depth": 235.0,
    "span": 3500.0,
    "first_bearing": -600.0,
    "sound": True,
    "approval": None,
}
JOISTS = {"station_y": [0.0, 700.0, 1400.0], "joists": [JOIST, JOIST | {"id": "J2", "x": 400.0}], "u": 0.5}
SIGHT = {"setup": "S1", "point": "A", "reading": 1000.0, "sd": 0.5}
KRIGING = {"kriging": {"sf": 1.5, "ell": 500.0, "sn": 0.5}}
GOOD = {
    "plane": {"points": GRID, "reading_sd": 0.5},
    "blunders": {"points": GRID, "reading_sd": 0.5, "significance": 0.001},
    "straightedge-line": {"line": [[x * 300.0, x % 2] for x in range(5)], "length": 1200.0},
    "straightedge-surface": {"points": GRID, "length": 600.0},
    "flatness-zone": {"points": GRID},
    "f-numbers": {"lines": [[float(k % 3) for k in range(14)]], "spacing": 304.8},
    "verdict": {"value": 1.0, "u": 0.5, "upper": 2.0},
    "level-net": {
        "observations": [SIGHT, SIGHT | {"point": "B"}],
        "fixed": {"A": {"height": 0.0, "sd": 0.0}},
        "significance": 0.001,
    },
    "framing-plan": JOISTS,
    "joists": JOISTS,
    "drainage": WATER,
    "pond-probability": WATER | {"reading_sd": 0.5, "draws": 50, "seed": 1, "depths": [1], "drain_exact": False},
    "surface": {"points": GRID, "at": [[100.0, 100.0]], "method": KRIGING},
    "fill": {"points": GRID, "level": 3.0},
    "length": {"text": "44-3/16", "default_unit": "in"},
}
WITH_POINTS = [name for name, question in GOOD.items() if "points" in question]
WITH_BOUNDARY = ["straightedge-surface", "drainage", "pond-probability", "fill"]


def everything_is_asked(_):
    for operation in operations() ^ set(GOOD):
        told(False, f"{operation} stands either in GOOD of tests/peers/refusals.py or in the program, not in both")


def changed(operation, path, value):
    question = copy.deepcopy(GOOD[operation])
    place = question
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    return question


def refused(operation, question, kind):
    text = question if isinstance(question, str) else json.dumps(question)
    status, answer, error = asked(operation, text)
    found = json.loads(error)["error"]["kind"] if status == 2 else f"status {status}: {answer}{error}"
    told(found == kind, f"{operation} {text}: {found} is not {kind}")


def numbers_in(value, path=()):
    if isinstance(value, dict):
        return [one for key in value for one in numbers_in(value[key], (*path, key))]
    if isinstance(value, list):
        return [one for k in range(min(len(value), 3)) for one in numbers_in(value[k], (*path, k))]
    return [path] if isinstance(value, float) else []


def not_numbers(_):
    """NaN, infinities and numbers too large, wherever a length stands."""
    for operation, question in GOOD.items():
        for path in numbers_in(question):
            for bad in (float("nan"), float("inf"), -float("inf")):
                refused(operation, changed(operation, path, bad), "not-finite")
            for bad in ("1e999", "-1e999", "1e308"):
                text = json.dumps(changed(operation, path, "@")).replace('"@"', bad)
                status, answer, error = asked(operation, text)
                kind = json.loads(error)["error"]["kind"] if error else answer
                fine = status == 2 and kind in ("not-finite", "out-of-range" if bad == "1e308" else "not-finite")
                told(fine, f"{operation} {text}: {status} {kind}")


def fields(_):
    for operation, question in GOOD.items():
        refused(operation, question | {"reeding_sd": 1}, "unknown-field")
        refused(operation, "", "not-json")
        refused(operation, "{", "not-json")
        if operation != "length":
            refused(operation, {}, "missing-field")
        refused(operation, json.dumps(question) + "x", "not-json")
        status, _, error = asked(operation, json.dumps(question))
        told(status == 0, f"{operation}: the good question is answered: {error}")


def too_little(_):
    for operation in WITH_POINTS:
        line = [[k * 100.0, k * 70.0, 1.0] for k in range(5)]
        refused(operation, changed(operation, ["points"], []), "too-few-points")
        refused(operation, changed(operation, ["points"], GRID[:2]), "too-few-points")
        refused(
            operation, changed(operation, ["points"], [[5.0, 5.0, float(k)] for k in range(4)]), "coincident-points"
        )
        refused(operation, changed(operation, ["points"], line), "collinear-points")
        far = [[4.5e9 + x, 2.7e9 + y, z] for x, y, z in line]
        refused(operation, changed(operation, ["points"], far), "collinear-points")
        refused(operation, changed(operation, ["points"], [[x, y, None] for x, y, _ in GRID]), "too-few-points")
    for line in ([], [[0, 1]], [[0, 1], [300, None]]):
        refused("straightedge-line", changed("straightedge-line", ["line"], line), "too-few-points")
    refused("straightedge-line", changed("straightedge-line", ["line"], [[5, 1], [5, 2], [5, 3]]), "coincident-points")
    for lines in ([], [[]], [[1, 2]], [[1, None, 2, 3, None]]):
        refused("f-numbers", changed("f-numbers", ["lines"], lines), "too-few-points")
    refused("level-net", changed("level-net", ["observations"], []), "too-few-points")
    refused("framing-plan", changed("framing-plan", ["joists"], []), "too-few-points")
    refused("joists", changed("joists", ["station_y"], []), "too-few-points")


def out_of_range(_):
    for operation in ("plane", "blunders", "pond-probability"):
        for sd in (0, -1):
            refused(operation, changed(operation, ["reading_sd"], sd), "out-of-range")
    for operation in ("straightedge-line", "straightedge-surface"):
        for length in (0, -5):
            refused(operation, changed(operation, ["length"], length), "out-of-range")
    for spacing in (299.9, 305.1, 0, -304.8, 914.4):
        status, _, error = asked("f-numbers", json.dumps(changed("f-numbers", ["spacing"], spacing)))
        kind = json.loads(error)["error"]["kind"] if status == 2 else status
        told(kind in ("spacing-not-accepted", "out-of-range"), f"spacing {spacing}: {kind}")
    refused("f-numbers", GOOD["f-numbers"] | {"reading_sd": -1}, "out-of-range")
    refused("verdict", changed("verdict", ["u"], -0.1), "out-of-range")
    refused("verdict", GOOD["verdict"] | {"lower": 3.0}, "out-of-range")
    refused("verdict", GOOD["verdict"] | {"confidence": 1.0}, "out-of-range")
    refused("level-net", changed("level-net", ["observations", 0, "sd"], 0), "out-of-range")
    refused("level-net", changed("level-net", ["fixed", "A", "sd"], -1), "out-of-range")
    refused("level-net", changed("level-net", ["significance"], 0), "out-of-range")
    refused("blunders", changed("blunders", ["significance"], 1.5), "out-of-range")
    refused("framing-plan", changed("framing-plan", ["u"], -1), "out-of-range")
    refused("framing-plan", changed("framing-plan", ["joists", 0, "tops"], [1.0]), "out-of-range")
    refused("surface", changed("surface", ["method", "kriging", "ell"], 0), "out-of-range")
    refused("surface", changed("surface", ["method", "kriging", "sn"], -1), "out-of-range")
    refused("pond-probability", changed("pond-probability", ["draws"], 0), "out-of-range")
    refused("fill", {"points": GRID}, "out-of-range")
    refused("fill", GOOD["fill"] | {"yield_litres": 0}, "out-of-range")
    refused("drainage", WATER | {"minimum_fall": -0.01}, "out-of-range")
    refused("drainage", WATER | {"drain": {"vertices": []}}, "out-of-range")
    refused("drainage", WATER | {"drain": {"vertices": [99]}}, "out-of-range")
    refused("drainage", WATER | {"open_edges": [[5, 6]]}, "out-of-range")
    refused("level-net", changed("level-net", ["fixed"], {}), "datum-or-link-missing")
    refused("level-net", changed("level-net", ["observations", 1, "setup"], "S2"), "datum-or-link-missing")
    refused("length", changed("length", ["text"], "five and a bit"), "not-understood")


def places(_):
    crossed = [SQUARE[k] for k in (0, 2, 1, 3)]
    for operation in WITH_BOUNDARY:
        good = GOOD[operation]
        refused(operation, good | {"boundary": crossed}, "not-simple")
        refused(operation, good | {"boundary": [[5000, 0], [6000, 0], [6000, 900]]}, "outside-boundary")
        refused(operation, good | {"triangles": [[0, 1, 99]]}, "bad-triangle")
        missing = copy.deepcopy(good)
        missing["points"][5][2] = None
        refused(operation, missing | {"triangles": [[0, 1, 5]]}, "bad-triangle")
        refused(operation, good | {"triangles": [[0, 1, 4], [0, 1, 5]]}, "bad-triangle")
        answered(operation, good | {"boundary": SQUARE})
    for operation in ("drainage", "pond-probability"):
        for drain in ({"point": [2000, 100]}, {"line": [[100, 100], [2000, 100]]}):
            refused(operation, GOOD[operation] | {"drain": drain}, "outside-boundary")
    refused("drainage", WATER | {"drain": {"point": [100, 100]}, "rule": "square-to-drain"}, "rule-needs-a-line")


def answered(operation, question):
    status, answer, error = asked(operation, json.dumps(question))
    told(status == 0, f"{operation} {json.dumps(question)} is answered: {error}")
    return json.loads(answer) if status == 0 else {}


def missing_heights(_):
    """A null height is left out, named in the problems, and keeps its place in every list."""
    for operation in WITH_POINTS:
        question = copy.deepcopy(GOOD[operation])
        question["points"][5][2] = None
        answer = answered(operation, question)
        at = [one.get("at") for one in answer.get("problems", []) if one["kind"] == "missing-reading"]
        told(at == ["5"], f"{operation}: missing readings {at}")
        for name in ("residuals", "w", "redundancy", "smallest_detectable", "spill_level"):
            if name in answer:
                told(len(answer[name]) == 12 and answer[name][5] is None, f"{operation}: {name} {answer[name]}")
        told(
            all(5 not in triangle for triangle in answer.get("triangles", [])),
            f"{operation}: a facet on what was not read",
        )
    answer = answered("straightedge-line", changed("straightedge-line", ["line", 1, 1], None))
    told([one["at"] for one in answer["problems"]] == ["1"], f"straightedge-line: {answer}")
    answered("level-net", changed("level-net", ["observations", 1, "reading"], None))
    answered("f-numbers", changed("f-numbers", ["lines", 0, 0], None))
    for operation in ("framing-plan", "joists"):
        answer = answered(operation, changed(operation, ["joists", 0, "tops", 1], None))
        told(any(one["kind"] == "missing-reading" for one in answer["problems"]), f"{operation}: {answer}")


def duplicates(_):
    """Two readings at one place with different heights are reported; surfaces use their mean."""
    for operation in WITH_POINTS:
        for off in (0, 4.5e9):
            question = copy.deepcopy(GOOD[operation])
            question["points"] = [[x + off, y, z] for x, y, z in question["points"] + [[300.0, 300.0, 4.0]]]
            if operation == "surface":
                question["at"] = [[x + off, y] for x, y in question["at"]]
            answer = answered(operation, question)
            kinds = [one["kind"] for one in answer.get("problems", [])]
            told(kinds.count("duplicate-point") >= 1, f"{operation}: a place read twice, {kinds}")
    line = [[0, 0], [300, 1], [300, 3], [600, 0], [900, 2]]
    twice = answered("straightedge-line", {"line": line, "length": 900})
    mean = answered("straightedge-line", {"line": [[0, 0], [300, 2], [600, 0], [900, 2]], "length": 900})
    told(np.isclose(twice["gap"], mean["gap"], 1e-12), f"straightedge-line: the mean at one place, {twice} {mean}")


CHECKS = (everything_is_asked, not_numbers, fields, too_little, out_of_range, places, missing_heights, duplicates)
