"""Planes, what does not fit them, and the thinnest slab: beside numpy's and scipy's linear algebra and HiGHS."""

from itertools import combinations

import numpy as np
from scipy import optimize, stats

from ask import equal, floor, rows, same, told, truefall


def design(points):
    plan = points[:, :2] - points[:, :2].mean(0)
    return np.column_stack([np.ones(len(points)), plan])


def fitted(points):
    """Height at the centroid, slopes, residuals and redundancy."""
    matrix = design(points)
    solution, *_ = np.linalg.lstsq(matrix, points[:, 2], rcond=None)
    orthonormal, _ = np.linalg.qr(matrix)
    return solution, points[:, 2] - matrix @ solution, 1 - np.sum(orthonormal**2, axis=1)


def normalised(residuals, redundancy, sd):
    return np.where(redundancy < 1e-9, 0, residuals / (sd * np.sqrt(np.maximum(redundancy, 1e-30))))


def plane(draw):
    points, sd = floor(draw, draw.choice([4, 5, 12, 40])), 0.8
    asked_at = points[:2, :2] + 100
    question = {"points": points.tolist(), "reading_sd": sd, "predict_at": asked_at.tolist()}
    ours = truefall("plane", question)
    (height, *slopes), residuals, redundancy = fitted(points)
    same("plane: slopes", [ours["slope_x"], ours["slope_y"]], slopes, 0, 1e-12)
    # Far off on the map the centroid itself is rounded to 1e-6 mm, and the height with it.
    same("plane: height", ours["height"], height, 0, 1e-7)
    same("plane: rss", ours["rss"], residuals @ residuals)
    same("plane: s0", ours["s0"], np.sqrt(residuals @ residuals / (len(points) - 3)) / sd)
    same("plane: residuals", ours["residuals"], residuals, 1e-9, 1e-10)
    same("plane: redundancy", ours["redundancy"], redundancy, 1e-9, 1e-10)
    same("plane: w", ours["w"], normalised(residuals, redundancy, sd), 1e-9, 1e-8)
    covariance = sd**2 * np.linalg.inv(design(points).T @ design(points))
    there = np.column_stack([np.ones(2), asked_at - points[:, :2].mean(0)])
    u = np.sqrt(np.einsum("ij,jk,ik->i", there, covariance, there))
    same("plane: u where it is asked for", [one["u"] for one in ours["predicted"]], u, 1e-7)
    same(
        "plane: z where it is asked for", [one["z"] for one in ours["predicted"]], there @ [height, *slopes], 1e-7, 1e-7
    )


def left_out(draw):
    """A missing height is no reading, and every list keeps its length."""
    points = floor(draw, 12)
    read = np.delete(points, [3, 8], axis=0)
    points[[3, 8], 2] = np.nan
    ours, without = (truefall("plane", {"points": rows(some), "reading_sd": 1}) for some in (points, read))
    same("missing: slopes", [ours["slope_x"], ours["slope_y"]], [without["slope_x"], without["slope_y"]])
    same("missing: residuals", ours["residuals"], np.insert(np.array(without["residuals"]), [3, 7], np.nan))
    at = [one["at"] for one in ours["problems"] if one["kind"] == "missing-reading"]
    equal("missing: which", at, ["3", "8"])


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


def blunders(draw):
    sd, significance = 0.5, draw.choice([0.001, 0.01])
    points = floor(draw, draw.choice([8, 20]), sd=sd)
    wrong = draw.choice(len(points), 3, replace=False)
    points[wrong, 2] += draw.choice([-1, 1], 3) * draw.uniform(3, 25, 3)
    ours = truefall("blunders", {"points": points.tolist(), "reading_sd": sd, "significance": significance})
    critical = stats.norm.ppf(1 - significance / 2)
    kept, removed, at_removal = list(range(len(points))), [], []
    while len(kept) > 4:
        _, residuals, redundancy = fitted(points[kept])
        w = normalised(residuals, redundancy, sd)
        worst = int(np.argmax(np.abs(w)))
        if abs(w[worst]) <= critical:
            break
        removed.append(kept.pop(worst))
        at_removal.append(w[worst])
    equal("blunders: removed", ours["removed"], removed)
    same("blunders: critical", ours["critical"], critical)
    same("blunders: w", ours["w_at_removal"], at_removal, 1e-7, 1e-9)
    _, _, redundancy = fitted(points)
    smallest = (critical + stats.norm.ppf(0.8)) * sd / np.sqrt(redundancy)
    same("blunders: smallest detectable", ours["smallest_detectable"], smallest, 1e-7)
    (_, *slopes), residuals, _ = fitted(points[kept])
    same("blunders: the rest", [ours["plane"]["slope_x"], ours["plane"]["slope_y"]], slopes, 0, 1e-12)
    same("blunders: rss of the rest", ours["plane"]["rss"], residuals @ residuals, 1e-8, 1e-12)


def flatness_zone(draw):
    """The zone is the largest over any four points of theirs (duality), and what a linear program finds."""
    kind = draw.choice(["random", "grid", "thin", "repeated"])
    points = floor(draw, 11, sd=2)
    if kind == "grid":
        points[:9, :2] = points[0, :2] + np.array([[x, y] for x in range(3) for y in range(3)]) * 300.0
        points = points[:9]
        points[:, 2] = draw.integers(-3, 4, 9)
    if kind == "thin":
        points[:, :2] -= points[0, :2]
        points[:, 1] = points[0, 1] + draw.uniform(0, 3, len(points))
    if kind == "repeated":
        points[4, :2] = points[5, :2]
    ours = truefall("flatness-zone", {"points": points.tolist()})
    matrix = design(points) / [1, 1000, 1000]
    four = np.array(list(combinations(range(len(points)), 4)))
    a, b, c, d = (matrix[four[:, k]] for k in range(4))

    def weight(p, q, r):
        return np.linalg.det(np.stack([p, q, r], axis=1))

    weights = np.stack([weight(b, c, d), -weight(a, c, d), weight(a, b, d), -weight(a, b, c)], axis=1)
    total = np.sum(np.abs(weights), axis=1)
    lifted = np.abs(np.sum(weights * points[four, 2], axis=1))
    spans = total > 1e-9 * total.max()
    zone = max(2 * lifted[spans] / total[spans])
    if kind == "repeated":
        zone = max(zone, abs(points[4, 2] - points[5, 2]))
    same(f"zone: {kind}", ours["minimum_zone"], zone, 1e-7 if kind == "thin" else 1e-9, 1e-12)
    held = np.column_stack([matrix, np.ones(len(points))])
    under = np.column_stack([-matrix, np.ones(len(points))])
    program = optimize.linprog(
        [0, 0, 0, 2],
        -np.vstack([held, under]),
        -np.concatenate([points[:, 2], -points[:, 2]]),
        bounds=[(None, None)] * 4,
    )
    same(f"zone: {kind}, by linear program", ours["minimum_zone"], program.fun, 1e-6, 1e-6)
    _, residuals, _ = fitted(points)
    same(f"zone: {kind}, least squares", ours["least_squares_range"], np.ptp(residuals), 1e-8)
    slab = ours["plane"]
    apart = points[:, 2] - slab["height"] - (points[:, :2] - slab["centroid"]) @ [slab["slope_x"], slab["slope_y"]]
    told(np.max(np.abs(apart)) <= zone / 2 + 1e-6, f"zone: {kind}, its plane holds all: {apart} in {zone}")


CHECKS = (plane, left_out, orthogonal, huber, blunders, flatness_zone)
