"""Heights from several set-ups, figures of whole floors, and single values: beside numpy and scipy's distributions."""

from fractions import Fraction

import numpy as np
from scipy import stats

from ask import equal, same, truefall


def verdict(draw):
    value, u, upper, lower = draw.normal(0, 2), draw.uniform(0.1, 1), draw.uniform(0, 3), draw.uniform(-3, -1)
    confidence = draw.choice([0.95, 0.9, 0.99])
    z = stats.norm.ppf(confidence)
    for limits in ({"upper": upper}, {"lower": lower}, {"upper": upper, "lower": lower}):
        question = {"value": value, "u": u, "confidence": confidence, **limits}
        ours = truefall("verdict", question)
        high = stats.norm.cdf((limits.get("upper", np.inf) - value) / u)
        low = stats.norm.cdf((limits.get("lower", -np.inf) - value) / u)
        same(f"verdict: {limits}", ours["probability"], high - low, 1e-9, 1e-12)
        word = "within" if high - low >= confidence else "out" if high - low <= 1 - confidence else "too-close-to-call"
        equal(f"verdict: the word for {question}", ours["verdict"], word)
        accepted = [
            limits["lower"] + z * u if "lower" in limits else None,
            upper - z * u if "upper" in limits else None,
        ]
        same("verdict: acceptance", [ours["acceptance_limit"]["lower"], ours["acceptance_limit"]["upper"]], accepted)
        sure = truefall("verdict", {**question, "u": 0, "value": limits.get("upper", lower)})
        equal("verdict: the limit without doubt", [sure["verdict"], sure["probability"]], ["within", 1])


def readings_needed(draw):
    sd, margin, alpha, beta = (
        draw.uniform(0.1, 2),
        draw.uniform(0.2, 2),
        draw.uniform(0.01, 0.2),
        draw.uniform(0.01, 0.2),
    )
    ours = truefall(
        "verdict", {"value": 1, "u": 1, "upper": 2, "sd": sd, "margin": margin, "alpha": alpha, "beta": beta}
    )
    n = np.ceil(((stats.norm.ppf(1 - alpha) + stats.norm.ppf(1 - beta)) * sd / margin) ** 2)
    same("readings needed", ours["readings_needed"], n)


def level_net(draw):
    """Two or three set-ups, some points read twice, one known height held and one that may give way."""
    names, stands = "ABCDEF", {"S1": 1100.0, "S2": 1180.0, "S3": 900.0}
    off = draw.choice([0.0, 4.5e6])
    heights = {name: off + draw.normal(0, 20) for name in names}
    seen = [("S1", p) for p in "ABCD"] + [("S2", p) for p in "CDEFA"] + [("S3", p) for p in "EFB"] + [("S2", "C")]
    observations = []
    for setup, point in seen:
        sd = draw.choice([0.3, 0.5, 1.0])
        reading = off + stands[setup] - heights[point] + draw.normal(0, sd)
        observations.append({"setup": setup, "point": point, "reading": reading, "sd": sd})
    observations[draw.integers(len(seen))]["reading"] += draw.choice([0.0, 12.0])
    fixed = {"A": {"height": heights["A"], "sd": 0}, "E": {"height": heights["E"] + 0.4, "sd": 0.7}}
    pairs = [["B", "D"], ["A", "F"], ["E", "C"]]
    question = {"observations": observations, "fixed": fixed, "significance": 0.001, "differences_of": pairs}
    ours = truefall("level-net", question)
    unknown = ["S1", "S2", "S3", *"BCDEF"]
    design, right = np.zeros((len(seen) + 1, len(unknown))), np.zeros(len(seen) + 1)
    for row, one in enumerate(observations):
        design[row, unknown.index(one["setup"])] = 1
        right[row] = one["reading"]
        if one["point"] == "A":
            right[row] += heights["A"]
        else:
            design[row, unknown.index(one["point"])] = -1
    design[-1, unknown.index("E")], right[-1] = 1, fixed["E"]["height"]
    sds = np.array([one["sd"] for one in observations] + [0.7])
    orthonormal, triangle = np.linalg.qr(design / sds[:, None])
    # About the height of A, so that no digits are lost far above the sea.
    shift = design @ np.array([heights["A"]] * len(unknown))
    moved = np.linalg.solve(triangle, orthonormal.T @ ((right - shift) / sds))
    solution, v = moved + heights["A"], (right - shift - design @ moved) / sds
    inverse = np.linalg.inv(triangle)
    covariance = inverse @ inverse.T
    place = {name: unknown.index(name) for name in unknown}
    for name in "BCDEF":
        same(f"level net: {name}", ours["heights"][name]["height"], solution[place[name]])
        same(f"level net: u of {name}", ours["heights"][name]["u"], np.sqrt(covariance[place[name], place[name]]), 1e-8)
    same("level net: A", [ours["heights"]["A"]["height"], ours["heights"]["A"]["u"]], [heights["A"], 0])
    same("level net: set-ups", [ours["setups"][s] for s in stands], solution[:3])
    dof = len(sds) - len(unknown)
    same("level net: vtpv", [ours["vtpv"], ours["dof"]], [v @ v, dof], 1e-7 if off else 1e-8)
    same("level net: p", ours["p_global"], stats.chi2.sf(v @ v, dof), 1e-6)
    redundancy = 1 - np.sum(orthonormal**2, axis=1)
    w = np.where(redundancy < 1e-9, 0, v / np.sqrt(np.maximum(redundancy, 1e-30)))[:-1]
    worst = int(np.argmax(np.abs(w)))
    same("level net: largest w", abs(ours["largest_w"]["w"]), abs(w[worst]), 1e-6)
    # Two readings that check only one another share it.
    same("level net: largest w at its index", ours["largest_w"]["w"], w[ours["largest_w"]["index"]], 1e-6)
    equal("level net: suspected", ours["blunder_suspected"], bool(abs(w[worst]) > stats.norm.ppf(0.9995)))
    for (low, high), found in zip(pairs, ours["differences"]):
        step = np.zeros(len(unknown))
        at = {name: 0.0 if name == "A" else solution[place[name]] - heights["A"] for name in (low, high)}
        for name, sign in ((low, -1), (high, 1)):
            if name != "A":
                step[place[name]] = sign
        same(f"level net: {low}-{high}", found["height"], at[high] - at[low], 1e-9, 1e-9 if not off else 1e-8)
        same(f"level net: u of {low}-{high}", found["u"], np.sqrt(step @ covariance @ step), 1e-8)


def f_numbers(draw):
    spacing, sd, confidence = draw.choice([300.0, 304.8]), draw.choice([0.0, 0.2, 3.0]), draw.choice([0.9, 0.95])
    lines = [draw.normal(0, 1.5, draw.integers(9, 26)) + draw.uniform(-5, 5) for _ in range(draw.integers(1, 4))]
    lines[0][draw.integers(len(lines[0]))] = np.nan
    question = {"lines": [[None if np.isnan(z) else z for z in line] for line in lines], "spacing": spacing}
    if sd:
        question |= {"reading_sd": sd, "confidence": confidence}
    ours = truefall("f-numbers", question)
    pieces = []
    for line in lines:
        cut = np.flatnonzero(np.isnan(line))
        pieces += [piece[~np.isnan(piece)] for piece in np.split(line, cut)]
    bent = np.concatenate([np.diff(piece, 2) for piece in pieces])
    over = np.concatenate([piece[10:] - piece[:-10] for piece in pieces])
    for name, constant, m, values in (("FF", 116.078, 6, bent), ("FL", 317.5, 2, over)):
        if len(values) < 2:
            equal(f"{name}: too few", ours[name], None)
            continue
        s, mean, n = np.std(values, ddof=1), np.mean(values), len(values)
        figure = lambda s: constant / (3 * s + abs(mean))
        same(name, [ours[name][key] for key in ("f", "mean", "s", "n")], [figure(s), mean, s, n])
        tail = (1 - (confidence if sd else 0.9)) / 2
        limits = s * np.sqrt((n - 1) / stats.chi2.ppf([tail, 1 - tail], n - 1))
        same(f"{name}: interval", ours[name]["interval"], figure(limits), 1e-8)
        left = s**2 - m * sd**2
        same(f"{name}: ceiling", ours[name]["noise_ceiling"], constant / (3 * np.sqrt(m) * sd) if sd else None)
        same(
            f"{name}: corrected",
            ours[name]["noise_corrected"],
            figure(np.sqrt(left)) if sd and left > 0 else None,
            1e-8,
        )
    equal("F-numbers are an indication", ours["indication_only"], True)


def length(draw):
    """Feet, inches and a fraction as typed, beside exact fractions."""
    feet, inches, parts = (int(draw.integers(low, high)) for low, high in ((1, 12), (0, 12), (1, 6)))
    over = int(draw.integers(1, 2**parts))
    exact = 12 * feet + inches + Fraction(over, 2**parts)
    ours = truefall("length", {"text": f"{feet}'-{inches} {over}/{2**parts}\"", "default_unit": "in"})
    same("length: feet, inches and a fraction", ours["mm"], float(exact * Fraction(254, 10)))
    strong = truefall("length", {"text": f"{12 * feet + inches}-{over}/{2**parts} strong", "default_unit": "in"})
    same("length: strong", strong["mm"], float((exact + Fraction(1, 32)) * Fraction(254, 10)))
    metric = truefall("length", {"text": f"{feet}{inches:02},{over}", "default_unit": "mm"})
    same("length: a decimal comma", metric["mm"], float(f"{feet}{inches:02}.{over}"))


CHECKS = (verdict, readings_needed, level_net, f_numbers, length)
