"""Seconds that numpy and scipy take for what `costs.rs` times of Truefall: the best of some runs, one line each."""

from time import perf_counter

import numpy as np
from scipy import optimize, spatial

draw = np.random.default_rng(1)


def told(name, work, runs):
    best = np.inf
    for _ in range(runs):
        start = perf_counter()
        work()
        best = min(best, perf_counter() - start)
    print(f"{name} {best}")


def room(count):
    plan = draw.uniform(-1500, 1500, (count, 2))
    return plan, 3 + plan @ [0.01, -0.02] + draw.normal(0, 0.8, count)


def normal_equations(plan, z):
    design = np.column_stack([np.ones(len(z)), plan])
    covariance = np.linalg.inv(design.T @ design)
    return covariance @ (design.T @ z)


def least_squares_with_every_w(plan, z):
    design = np.column_stack([np.ones(len(z)), plan - plan.mean(0)])
    q, r = np.linalg.qr(design)
    residuals = z - q @ (q.T @ z)
    inverse = np.linalg.inv(r)
    return inverse @ inverse.T, residuals / np.sqrt(1 - np.sum(q * q, axis=1))


def kriging(known, z, asked, sf=2.0, ell=600.0, sn=0.5):
    def covariance(p, q):
        return sf**2 * np.exp(-spatial.distance.cdist(p, q, "sqeuclidean") / (2 * ell**2))

    n = len(known)
    trend, there = (np.column_stack([np.ones(len(p)), p / 1000]) for p in (known, asked))
    system = np.block([[covariance(known, known) + sn**2 * np.eye(n), trend], [trend.T, np.zeros((3, 3))]])
    right = np.vstack([covariance(known, asked), there.T])
    weights = np.linalg.solve(system, right)
    return weights[:n].T @ z, np.sqrt(sf**2 - np.sum(weights * right, axis=0))


def minimum_zone(plan, z):
    n = len(z)
    held = np.column_stack([np.ones(n), plan / 1000, np.ones(n)])
    under = held * [-1, -1, -1, 1]
    return optimize.linprog([0, 0, 0, 2], -np.vstack([held, under]), -np.concatenate([z, -z]), bounds=[(None, None)] * 4)


plan, z = room(1_000_000)
told("normal-equations-1000000", lambda: normal_equations(plan, z), 5)
told("plane-1000000", lambda: least_squares_with_every_w(plan, z), 5)
plan, z = room(50)
told("plane-50", lambda: least_squares_with_every_w(plan, z), 200)
told("zone-50", lambda: minimum_zone(plan, z), 20)
told("hull-50", lambda: spatial.ConvexHull(np.column_stack([plan, z])), 50)
told("kriging-50", lambda: kriging(plan, z, draw.uniform(-1500, 1500, (500, 2))), 50)
plan, z = room(10_000)
told("hull-10000", lambda: spatial.ConvexHull(np.column_stack([plan, z])), 5)
