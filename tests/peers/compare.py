"""Truefall beside numpy and scipy: the same inputs, two answers, a stated tolerance.

Run by `cargo verify peers`, which names the program in TRUEFALL. Each check draws its own inputs from a fixed seed and
computes the answer by another way than Truefall does; `--long` draws many more. The last line counts the comparisons.
"""

import json
import os
import subprocess
import sys
from collections import Counter

import numpy as np
from scipy import optimize, stats

ROUNDS = 200 if "--long" in sys.argv else 8
counts = Counter()


def truefall(operation, question):
    words = [os.environ["TRUEFALL"], "compute", operation]
    done = subprocess.run(words, input=json.dumps(question), capture_output=True, text=True, check=False)
    if done.returncode:
        sys.exit(f"{operation} refused {question}: {done.stderr}")
    return json.loads(done.stdout)


def same(what, ours, theirs, relative=1e-9, absolute=1e-12):
    fine = np.allclose(np.asarray(ours, float), np.asarray(theirs, float), rtol=relative, atol=absolute)
    counts["passed" if fine else "failed"] += 1
    if not fine:
        print(f"{what}: Truefall {ours}, the peer {theirs}")


def floor(draw, count=40, tilt=0.01, sd=0.8):
    """Readings over a room of about three metres, anywhere on a site's map."""
    plan = draw.uniform(0, 3000, (count, 2)) + draw.choice([0.0, 4.5e9]) * np.array([1.0, 0.6])
    inside = plan - plan.mean(0)
    heights = inside @ draw.uniform(-tilt, tilt, 2) + draw.normal(0, sd, count)
    return np.column_stack([plan, heights])


def plane(draw):
    points, sd = floor(draw), 0.8
    ours = truefall("plane", {"points": points.tolist(), "reading_sd": sd})
    design = np.column_stack([np.ones(len(points)), points[:, :2] - points[:, :2].mean(0)])
    (height, *slopes), rss, *_ = np.linalg.lstsq(design, points[:, 2], rcond=None)
    same("plane: slopes", [ours["slope_x"], ours["slope_y"]], slopes, 0, 1e-12)
    # Far off on the map the centroid itself is rounded to 1e-6 mm, and the height with it.
    same("plane: height", ours["height"], height, 0, 1e-7)
    same("plane: rss", ours["rss"], rss[0])
    orthonormal, _ = np.linalg.qr(design)
    redundancy = 1 - np.sum(orthonormal**2, axis=1)
    same("plane: redundancy", ours["redundancy"], redundancy)
    residuals = points[:, 2] - design @ [height, *slopes]
    same("plane: w", ours["w"], residuals / (sd * np.sqrt(redundancy)), 1e-7, 1e-9)


def orthogonal(draw):
    points = floor(draw, tilt=0.3)
    ours = truefall("plane", {"points": points.tolist(), "reading_sd": 1, "estimator": "orthogonal"})
    *_, (*_, normal) = np.linalg.svd(points - points.mean(0))
    same("orthogonal: normal", ours["normal"], normal * np.sign(normal[2]), 0, 1e-10)


def huber(draw):
    points, sd = floor(draw), 0.8
    points[:3, 2] += [9, -7, 12]
    ours = truefall("plane", {"points": points.tolist(), "reading_sd": sd, "estimator": "huber"})
    inside = (points[:, :2] - points[:, :2].mean(0)) / 1000

    def loss(p):
        v = np.abs(points[:, 2] - p[0] - inside @ p[1:]) / sd
        return np.sum(np.where(v <= 1.345, v**2 / 2, 1.345 * v - 1.345**2 / 2))

    best = optimize.minimize(loss, np.zeros(3), method="BFGS", options={"gtol": 1e-11}).x / [1, 1000, 1000]
    same("huber: slopes", [ours["slope_x"], ours["slope_y"]], best[1:], 0, 1e-8)


def verdict(draw):
    value, u, upper, lower = draw.normal(0, 2), draw.uniform(0.1, 1), draw.uniform(0, 3), draw.uniform(-3, -1)
    for limits in ({"upper": upper}, {"lower": lower}, {"upper": upper, "lower": lower}):
        ours = truefall("verdict", {"value": value, "u": u, **limits})
        high = stats.norm.cdf((limits.get("upper", np.inf) - value) / u)
        low = stats.norm.cdf((limits.get("lower", -np.inf) - value) / u)
        same(f"verdict: {limits}", ours["probability"], high - low, 1e-9, 1e-12)
        word = "within" if high - low >= 0.95 else "out" if high - low <= 0.05 else "too-close-to-call"
        same("verdict: the word", ours["verdict"] == word, True)


def straightedge(draw):
    """The largest gap under any bar, by a fine grid of bars and then a local search from the best of them."""
    s = np.cumsum(draw.uniform(80, 400, 12))
    z = draw.normal(0, 3, 12)
    length = draw.uniform(500, 2200)
    ours = truefall("straightedge-line", {"line": np.column_stack([s, z]).tolist(), "length": length})

    def gap(start, reach):
        a, b = max(start, s[0]), min(start + reach, s[-1])
        at = np.concatenate([[a], s[(s > a) & (s < b)], [b]])
        chord = np.interp(at, [a, b], np.interp([a, b], s, z)) if b > a else np.interp(at, s, z)
        return np.max(chord - np.interp(at, s, z))

    starts = np.linspace(s[0], s[-1], 400)
    grid = [(gap(a, reach), a, reach) for a in starts for reach in np.linspace(0.02, 1, 50) * length]
    best, a, reach = max(grid)
    polished = optimize.minimize(
        lambda p: -gap(p[0], np.clip(p[1], 0, length)), [a, reach], method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-12}
    )
    best = max(best, -polished.fun)
    same("straightedge: no bar beats it", ours["gap"] >= best - 1e-9, True)
    same("straightedge: a bar reaches it", ours["gap"], best, 2e-3)


def kriging(draw):
    points = floor(draw, 25)
    points[:, :2] -= points[:, :2].mean(0)
    at = draw.uniform(-1200, 1200, (5, 2))
    sf, ell, sn = 1.5, 600.0, 0.8
    method = {"kriging": {"sf": sf, "ell": ell, "sn": sn}}
    ours = truefall("surface", {"points": points.tolist(), "at": at.tolist(), "method": method, "limit": 0.5})

    def covariance(p, q):
        return sf**2 * np.exp(-np.sum((p[:, None] - q[None]) ** 2, axis=2) / (2 * ell**2))

    def trend(p):
        return np.column_stack([np.ones(len(p)), p / 1000])

    known, asked = points[:, :2], at
    system = np.block(
        [
            [covariance(known, known) + sn**2 * np.eye(len(known)), trend(known)],
            [trend(known).T, np.zeros((3, 3))],
        ]
    )
    right = np.vstack([covariance(known, asked), trend(asked).T])
    weights = np.linalg.solve(system, right)
    mean = weights[: len(known)].T @ points[:, 2]
    variance = sf**2 - np.sum(weights * right, axis=0)
    same("kriging: mean", ours["mean"], mean, 1e-7, 1e-9)
    same("kriging: sd", ours["sd"], np.sqrt(variance), 1e-7)
    same("kriging: probability", ours["probability_above"], stats.norm.sf((0.5 - mean) / np.sqrt(variance)), 1e-6, 1e-9)


def level_net(draw):
    heights = {name: draw.normal(0, 20) for name in "ABCDEF"}
    stands = {"S1": 1100.0, "S2": 1180.0}
    seen = [("S1", p) for p in "ABCD"] + [("S2", p) for p in "CDEFA"]
    sd = 0.5
    observations = [
        {"setup": s, "point": p, "reading": stands[s] - heights[p] + draw.normal(0, sd), "sd": sd} for s, p in seen
    ]
    question = {"observations": observations, "fixed": {"A": {"height": heights["A"], "sd": 0}}, "significance": 0.001}
    ours = truefall("level-net", question)
    unknown = ["S1", "S2", "B", "C", "D", "E", "F"]
    design, right = np.zeros((len(seen), len(unknown))), np.zeros(len(seen))
    for row, one in enumerate(observations):
        design[row, unknown.index(one["setup"])] = 1
        right[row] = one["reading"]
        if one["point"] == "A":
            right[row] += heights["A"]
        else:
            design[row, unknown.index(one["point"])] = -1
    solution, rss, *_ = np.linalg.lstsq(design, right, rcond=None)
    covariance = sd**2 * np.linalg.inv(design.T @ design)
    for name in "BCDEF":
        at = unknown.index(name)
        same(f"level net: {name}", ours["heights"][name]["height"], solution[at])
        same(f"level net: u of {name}", ours["heights"][name]["u"], np.sqrt(covariance[at, at]), 1e-8)
    same("level net: vtpv", ours["vtpv"], rss[0] / sd**2, 1e-8)
    same("level net: p", ours["p_global"], stats.chi2.sf(rss[0] / sd**2, len(seen) - len(unknown)), 1e-8)


def main():
    for check in (plane, orthogonal, huber, verdict, straightedge, kriging, level_net):
        for round_ in range(ROUNDS):
            check(np.random.default_rng([round_, len(check.__name__)]))
    print(f"{counts['passed']} passed, {counts['failed']} failed")
    sys.exit(1 if counts["failed"] else 0)


main()
