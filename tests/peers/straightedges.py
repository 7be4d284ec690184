"""Straightedges along a line and over a floor: beside dense searches of every position, and polished from there."""

from itertools import combinations, pairwise

import numpy as np
from scipy import optimize, stats

from ask import equal, floor, same, told, truefall

SAME = 1e-9


def window(s, z, start, length):
    """The profile under a bar that starts here."""
    end = min(start + length, s[-1])
    at = np.concatenate([[start], s[(s > start + SAME) & (s < end - SAME)], [end]])
    return at, np.interp(at, s, z)


def hull(at, z):
    """Indices of the upper hull."""
    kept = []
    for k in range(len(at)):
        while len(kept) > 1 and (z[kept[-1]] - z[kept[-2]]) * (at[k] - at[kept[-2]]) <= (z[k] - z[kept[-2]]) * (
            at[kept[-1]] - at[kept[-2]]
        ):
            kept.pop()
        kept.append(k)
    return kept


def supported_there(at, z):
    kept = hull(at, z)
    return np.max(np.interp(at, at[kept], z[kept]) - z)


def end_supported_there(at, z):
    apart = z - np.interp(at, at[[0, -1]], z[[0, -1]])
    return apart[np.argmax(np.abs(apart))]


def resting_there(at, z):
    kept, centre = hull(at, z), (at[0] + at[-1]) / 2
    best = 0.0
    for a, b in pairwise(kept):
        if at[a] - 1e-7 <= centre <= at[b] + 1e-7:
            edge = z[a] + (z[b] - z[a]) * (at - at[a]) / (at[b] - at[a])
            best = max(best, np.max(edge - z))
    return best


def largest(s, z, length, there):
    """The largest over every position: sampled between all turns, then polished around the best."""
    if s[-1] - s[0] <= length:
        return there(s, z)
    turns = np.concatenate([s, s - length, s - length / 2, [s[0], s[-1] - length]])
    turns = np.unique(turns[(turns >= s[0]) & (turns <= s[-1] - length)])
    value = lambda start: there(*window(s, z, start, length))
    found = [(abs(value(turn)), value(turn), turn, turn) for turn in turns]
    for low, high in pairwise(turns):
        starts = np.linspace(low, high, 14)
        values = [value(start) for start in starts]
        k = int(np.argmax(np.abs(values)))
        found.append((abs(values[k]), values[k], starts[max(k - 1, 0)], starts[min(k + 1, 13)]))
    found.sort(key=lambda one: one[0], reverse=True)
    best = found[0]
    for _, _, low, high in found[:12]:
        if high > low:
            polished = optimize.minimize_scalar(
                lambda start: -abs(value(start)), bounds=(low, high), method="bounded", options={"xatol": 1e-10}
            )
            if -polished.fun > best[0]:
                best = (-polished.fun, value(polished.x))
    return best[1]


THERE = {"supported": supported_there, "resting": resting_there, "end-supported": end_supported_there}


def line(draw):
    count = draw.integers(3, 14)
    s = np.cumsum(draw.uniform(80, 400, count)) + draw.choice([0.0, 4.5e9])
    if draw.random() < 0.3:
        s = s[0] + 300.0 * np.arange(count)
    return s, draw.normal(0, 3, count)


def straightedge_line(draw):
    s, z = line(draw)
    length = draw.choice([draw.uniform(300, 2200), 600.0, 900.0])
    for definition, there in THERE.items():
        readings = np.column_stack([s, z])
        if draw.random() < 0.5:
            # In any order, and one place read twice.
            readings = draw.permutation(
                np.vstack([readings, readings[1] + [0, 1]]) - [[0, k == 1] for k in range(len(s) + 1)]
            )
        question = {"line": readings.tolist(), "length": length, "definition": definition}
        ours = truefall("straightedge-line", question)
        same(f"straightedge, {definition}: {question}", ours["gap"], largest(s - s[0], z, length, there), 1e-8, 1e-9)
        equal("straightedge: short", ours["short"], bool(s[-1] - s[0] < length - 1e-6))


def candidates(s, z, length):
    """Every chord of the exact search as weights on the readings: those between readings first, and their number."""
    n, reach = len(s), min(length, s[-1] - s[0])
    unit = np.eye(n)

    def at(place):
        return np.array([np.interp(place, s, row) for row in unit])

    def chord(start, end, k):
        share = (s[k] - start) / (end - start)
        return (1 - share) * at(start) + share * at(end) - unit[k]

    judged = [chord(s[a], s[b], k) for a, k, b in combinations(range(n), 3) if s[b] - s[a] <= reach + 1e-6]
    others = []
    starts = np.unique(np.concatenate([s, s - reach]))
    starts = starts[(starts >= s[0]) & (starts <= s[-1] - reach)]
    for start in starts:
        under = np.flatnonzero((s > start + 1e-6) & (s < start + reach - 1e-6))
        others += [chord(start, start + reach, k) for k in under]
    for low, high in pairwise(starts):
        middle = (low + high) / 2
        near, far = (np.interp(middle + shift + np.array([-0.01, 0.01]), s, z) for shift in (0, reach))
        near, far = (near[1] - near[0]) / 0.02, (far[1] - far[0]) / 0.02
        if far <= near:
            continue
        for k in np.flatnonzero((s > high) & (s < low + reach)):
            # The height of the bar over k stands still where its slope there is that of the near end's way.
            level = np.interp(middle + reach, s, z) - np.interp(middle, s, z) - (far - near) * middle
            start = (near * reach + (far - near) * s[k] - level) / (2 * (far - near))
            if low < start < high:
                others.append(chord(start, start + reach, k))
    return judged, others


def straightedge_verdict(draw):
    s, z = line(draw)
    s, z = s - s[0], z / 3
    length, sd, bar_sd = draw.uniform(500, 2200), draw.choice([0.05, 0.3, 0.8]), draw.choice([0.0, 0.2])
    limit = draw.uniform(0.2, 4)
    question = {
        "line": np.column_stack([s, z]).tolist(),
        "length": length,
        "limit": limit,
        "reading_sd": sd,
        "bar_sd": bar_sd,
    }
    ours = truefall("straightedge-line", question)
    if not any(s[k + 2] - s[k] <= length for k in range(len(s) - 2)):
        equal("verdict on a line: not tested", ours["verdict"], "not-tested")
        return
    judged, others = candidates(s, z, length)
    weights = np.array(judged + others)
    gaps = weights @ z
    u = np.sqrt(sd**2 * np.sum(weights**2, axis=1) + bar_sd**2)
    score = (gaps - limit) / u
    if np.all(gaps + stats.norm.ppf(0.95) * u <= limit + 1e-6):
        word = "within"
    else:
        word = "out" if max(score[: len(judged)]) > stats.norm.ppf(1 - 0.05 / len(judged)) else "too-close-to-call"
    equal(f"verdict on a line: {question}", ours["verdict"], word)
    if word == "too-close-to-call":
        nearest = weights[np.argmax(score)]
        equal("verdict on a line: deciding", ours["deciding"], np.flatnonzero(np.abs(nearest) > 1e-9).tolist())
    simple = truefall("straightedge-line", {**question, "rule": "simple"})
    equal("verdict on a line: simple", simple["verdict"], "within" if ours["gap"] <= limit + 1e-6 else "out")


def noise_alone(draw):
    """What noise alone shows on a line no longer than the bar, drawn here as well: within four standard errors."""
    s, sd, draws = np.cumsum(draw.uniform(80, 400, 8)), 0.5, 4000
    for definition, there in THERE.items():
        question = {
            "line": [[place, 0] for place in s],
            "length": 3000,
            "definition": definition,
            "limit": 3,
            "reading_sd": sd,
            "seed": int(draw.integers(1000)),
        }
        ours = truefall("straightedge-line", question)["noise_alone"]
        shown = np.array([abs(there(s, draw.normal(0, sd, len(s)))) for _ in range(draws)])
        error = np.std(shown) * np.sqrt(1 / draws + 1 / 10_000)
        told(abs(ours["mean"] - shown.mean()) < 4 * error, f"noise alone, {definition}: {ours} {shown.mean()}")
        higher = np.mean(shown > ours["p95"])
        told(abs(higher - 0.05) < 4 * np.sqrt(0.05 * 0.95 * (1 / draws + 1 / 10_000)), f"p95, {definition}: {higher}")


def supported(s, z, length):
    """The largest gap of the exact search along a profile, all at once."""
    best = 0.0
    for a in range(len(s)):
        b = np.flatnonzero((s > s[a]) & (s <= s[a] + length))
        if len(b):
            share = (s[None, :] - s[a]) / (s[b, None] - s[a])
            gap = z[a] + (z[b, None] - z[a]) * share - z[None, :]
            best = max(best, np.max(np.where((share > 0) & (share < 1), gap, 0)))
    if s[-1] - s[0] <= length:
        return best
    starts = np.unique(np.concatenate([s, s - length, [s[0], s[-1] - length]]))
    starts = starts[(starts >= s[0]) & (starts <= s[-1] - length)]
    starts = np.unique(np.concatenate([starts, (starts[1:] + starts[:-1]) / 2]))
    low, high = np.interp(starts, s, z), np.interp(starts + length, s, z)
    share = (s[None, :] - starts[:, None]) / length
    gap = low[:, None] + (high - low)[:, None] * share - z[None, :]
    return max(best, np.max(np.where((share > 0) & (share < 1), gap, 0)))


def profiles(plan, z, triangles, origin, angle):
    """The runs of a line that lie over the facets: places and heights along it."""
    way, aside = np.array([np.cos(angle), np.sin(angle)]), np.array([-np.sin(angle), np.cos(angle)])
    off, along = (plan - origin) @ aside, (plan - origin) @ way
    pieces = []
    for corners in triangles:
        ends = []
        for i, j in ((0, 1), (1, 2), (2, 0)):
            p, q = corners[i], corners[j]
            if (off[p] > 0) != (off[q] > 0):
                share = off[p] / (off[p] - off[q])
                ends.append((along[p] + share * (along[q] - along[p]), z[p] + share * (z[q] - z[p])))
        if len(ends) == 2:
            pieces.append(sorted(ends))
    pieces.sort()
    runs = []
    for (s0, z0), (s1, z1) in pieces:
        if s1 - s0 < 1e-9:
            continue
        if runs and abs(runs[-1][-1][0] - s0) < 1e-6:
            runs[-1].append((s1, z1))
        else:
            runs.append([(s0, z0), (s1, z1)])
    return [np.array(run).T for run in runs]


def height(plan, z, triangles, place):
    """The height of the surface at a place, from the facet it lies deepest in."""
    best = (-np.inf, 0.0)
    for corners in triangles:
        matrix = np.vstack([np.ones(3), (plan[corners] - place).T])
        weights = np.linalg.solve(matrix, [1, 0, 0])
        best = max(best, (weights.min(), weights @ z[corners]))
    return best[1] if best[0] > -1e-6 else np.nan


def l_shaped(draw):
    """An L of three rooms, read at its corners and inside."""
    corners = np.array([[0, 0], [2400, 0], [2400, 900], [1000, 900], [1000, 2100], [0, 2100]], float)
    inner = np.array([[500, 450], [1200, 400], [1900, 500], [450, 1100], [550, 1700]]) + draw.uniform(-80, 80, (5, 2))
    plan = np.vstack([corners, inner])
    return np.column_stack([plan, draw.normal(0, 3, len(plan))]), corners


def straightedge_surface(draw):
    points, boundary = l_shaped(draw) if draw.random() < 0.4 else (floor(draw, 14, sd=3, extent=2000), None)
    length = draw.uniform(500, 2500)
    question = {"points": points.tolist(), "length": length}
    if boundary is not None:
        question["boundary"] = boundary.tolist()
    ours = truefall("straightedge-surface", question)
    centre = points[:, :2].mean(0)
    plan, z, triangles = points[:, :2] - centre, points[:, 2], np.array(ours["triangles"])
    matrix = np.column_stack([np.ones(len(plan)), plan])
    z = z - matrix @ np.linalg.lstsq(matrix, z, rcond=None)[0]
    ends = [np.array(ours[name]) - centre for name in ("from", "to", "lowest_at")]
    long = np.linalg.norm(ends[1] - ends[0])
    told(long <= length + 1e-6, f"surface: a bar of {long} is longer than {length}")
    share = np.linalg.norm(ends[2] - ends[0]) / max(long, 1e-9)
    tops = [height(plan, z, triangles, end) for end in ends]
    same("surface: the bar shown shows it", ours["gap"], tops[0] * (1 - share) + tops[1] * share - tops[2], 1e-6, 1e-5)

    def over(p):
        origin = p[1] * np.array([-np.sin(p[0]), np.cos(p[0])])
        runs = profiles(plan, z, triangles, origin, p[0])
        return max([supported(s, heights, length) for s, heights in runs], default=0.0)

    radius = np.max(np.linalg.norm(plan, axis=1))
    tried = [
        (over((angle, off)), angle, off)
        for angle in np.linspace(0.003, np.pi, 36)
        for off in np.linspace(-radius, radius, 25)
    ]
    tried.sort(reverse=True)
    best = tried[0][0]
    for _, angle, off in tried[:4]:
        start = [[angle, off], [angle + 0.04, off], [angle, off + 60]]
        options = {"initial_simplex": start, "xatol": 1e-7, "fatol": 1e-7, "maxiter": 160}
        best = max(best, -optimize.minimize(lambda p: -over(p), start[0], method="Nelder-Mead", options=options).fun)
    told(ours["gap"] >= best - 0.002, f"surface: {ours['gap']} where a bar shows {best}: {question}")


CHECKS = (straightedge_line, straightedge_verdict, noise_alone, straightedge_surface)
