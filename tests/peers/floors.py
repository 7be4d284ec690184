"""Floors between their readings, and how they are filled: beside numpy's kriging, scipy's splines and facets."""

import numpy as np
from scipy import interpolate, stats

from ask import equal, floor, rows, same, told, truefall


def kriging(draw):
    """Universal kriging by its textbook system; repeated readings kept apart."""
    points = floor(draw, 25)
    points[24, :2] = points[23, :2]
    at = points[:, :2].mean(0) + draw.uniform(-1200, 1200, (6, 2))
    sf, ell, sn = 1.5, float(draw.choice([250.0, 600.0])), float(draw.choice([0.3, 0.8]))
    limit = float(np.mean(points[:, 2]) + draw.normal())
    method = {"kriging": {"sf": sf, "ell": ell, "sn": sn}}
    ours = truefall("surface", {"points": points.tolist(), "at": at.tolist(), "method": method, "limit": limit})
    known, asked = ((some[:, :2] - points[:, :2].mean(0)) / 1000 for some in (points, at))
    mean, sd = universal(known, points[:, 2], asked, sf, ell / 1000, sn)
    above = stats.norm.sf((limit - mean) / sd)
    same("kriging: mean", ours["mean"], mean, 1e-7, 1e-8)
    same("kriging: sd", ours["sd"], sd, 1e-7)
    same("kriging: probability", ours["probability_above"], above, 1e-6, 1e-9)
    equal("kriging: least known", ours["next_reading"]["largest_sd"], int(np.argmax(sd)))
    equal("kriging: least decided", ours["next_reading"]["most_undecided"], int(np.argmin(np.abs(above - 0.5))))
    without = truefall("surface", {"points": rows(points), "at": at.tolist(), "method": method})
    equal("kriging: no limit, no probability", without["probability_above"], None)


def universal(known, z, asked, sf, ell, sn):
    def covariance(p, q):
        return sf**2 * np.exp(-np.sum((p[:, None] - q[None]) ** 2, axis=2) / (2 * ell**2))

    def trend(p):
        return np.column_stack([np.ones(len(p)), p])

    n = len(known)
    system = np.block(
        [[covariance(known, known) + sn**2 * np.eye(n), trend(known)], [trend(known).T, np.zeros((3, 3))]]
    )
    right = np.vstack([covariance(known, asked), trend(asked).T])
    weights = np.linalg.solve(system, right)
    base = z.mean()
    return base + weights[:n].T @ (z - base), np.sqrt(sf**2 - np.sum(weights * right, axis=0))


def thin_plate(draw):
    points = floor(draw, 30)
    at = points[:, :2].mean(0) + draw.uniform(-1200, 1200, (8, 2))
    ours = truefall("surface", {"points": points.tolist(), "at": at.tolist(), "method": "thin-plate"})
    centre = points[:, :2].mean(0)
    plate = interpolate.RBFInterpolator(
        (points[:, :2] - centre) / 1000, points[:, 2], kernel="thin_plate_spline", degree=1
    )
    same("thin plate", ours["mean"], plate((at - centre) / 1000), 1e-7, 1e-8)
    equal("thin plate: no uncertainty", [ours["sd"], ours["probability_above"]], [None, None])


def facets(draw):
    points = floor(draw, 30)
    points[7, 2] = np.nan
    at = points[:, :2].mean(0) + draw.uniform(-1800, 1800, (12, 2))
    ours = truefall("surface", {"points": rows(points), "at": at.tolist(), "method": "facets"})
    read, centre = points[~np.isnan(points[:, 2])], points[:, :2].mean(0)
    theirs = interpolate.LinearNDInterpolator(read[:, :2] - centre, read[:, 2])(at - centre)
    same("facets", ours["mean"], theirs, 1e-7, 1e-7)
    told(all(7 not in triangle for triangle in ours["triangles"]), "facets: none over what was not read")


def fans(draw):
    """Places on one circle are fanned from the one of least x, then least y; a square is cut from its lower left."""
    angles = np.sort(draw.choice(12, 6, replace=False)) * np.pi / 6
    centre = np.array([1000.0, 800.0])
    plan = centre + 500 * np.column_stack([np.cos(angles), np.sin(angles)])
    order = draw.permutation(6)
    points = np.column_stack([plan, draw.normal(0, 2, 6)])[order]
    ours = truefall("surface", {"points": points.tolist(), "at": [], "method": "facets"})["triangles"]
    first = min(range(6), key=lambda k: (round(points[k, 0], 6), round(points[k, 1], 6)))
    equal("fans", [first in triangle for triangle in ours], [True] * 4)
    grid = np.array([[x, y, draw.normal()] for x in range(4) for y in range(3)]) * [250, 250, 1]
    grid = grid[draw.permutation(12)]
    ours = truefall("surface", {"points": grid.tolist(), "at": [], "method": "facets"})["triangles"]
    for triangle in ours:
        corners = grid[triangle, :2]
        told(corners.min(0).tolist() in corners.tolist(), f"fans: a square is cut from its lower left, not {corners}")


def below(plan, over):
    """The plan polygon of a facet where it is covered, by clipping edge after edge."""
    kept = []
    for k in range(len(plan)):
        p, q, over_p, over_q = plan[k], plan[(k + 1) % len(plan)], over[k], over[(k + 1) % len(plan)]
        if over_p > 0:
            kept.append((*p, over_p))
        if (over_p > 0) != (over_q > 0):
            share = over_p / (over_p - over_q)
            kept.append((*(p + share * (q - p)), 0.0))
    return np.array(kept)


def content(polygon):
    """Plan area and volume over a polygon whose corners stand so high."""
    if len(polygon) < 3:
        return np.zeros(2)
    total = np.zeros(2)
    for k in range(1, len(polygon) - 1):
        a, b, c = polygon[[0, k, k + 1]]
        area = abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / 2
        total += area, area * (a[2] + b[2] + c[2]) / 3
    return total


def fill(draw):
    points = floor(draw, 20, sd=2)
    centre = points[:, :2].mean(0)
    question = {"points": points.tolist(), "reading_sd": 0.5, "level_sd": 0.3, "yield_litres": 11.7, "density": 1.9}
    high = float(np.quantile(points[:, 2], draw.choice([0.3, 0.7, 1.0])) + draw.choice([0, 2, 12]))
    slope = draw.uniform(-0.01, 0.01, 2) * draw.choice([0, 1])
    if slope.any():
        question["plane"] = {"height": high, "slope_x": slope[0], "slope_y": slope[1], "at": centre.tolist()}
    else:
        question["level"] = high
    if draw.random() < 0.5:
        question["waste"] = 0.1
    ours = truefall("fill", question)
    plan = points[:, :2] - centre
    over = high + plan @ slope - points[:, 2]
    total, weights = np.zeros(2), np.zeros(len(points))
    for triangle in ours["triangles"]:
        total += content(below(plan[triangle], over[triangle]))
        weights[triangle] += content(np.column_stack([plan[triangle], np.ones(3)]))[0] / 3
    same("fill: area and volume", [ours["area"], ours["volume"]], total * [1, 1e-6], 1e-8, 1e-9)
    u = np.sqrt(0.25 * np.sum(weights**2) + (0.3 * weights.sum()) ** 2) * 1e-6
    same("fill: u", ours["u_volume"], u if np.all(over >= 0) else None, 1e-8)
    bags = np.ceil((1 + question.get("waste", 0.05)) * total[1] * 1e-6 / 11.7)
    same("fill: bags and mass", [ours["bags"], ours["mass_kg"]], [bags, total[1] * 1e-6 * 1.9], 1e-8, 1e-9)


CHECKS = (kriging, thin_plate, facets, fans, fill)
