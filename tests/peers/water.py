"""Where water runs and stands: spill levels by relaxation, ponds by clipping, what escapes by following drops."""

import numpy as np

from ask import equal, same, somewhere, told, truefall
from floors import below, content
from straightedges import height, l_shaped


def room(draw):
    """A room with a hollow or two, its drain, and often an entry left open."""
    shape = draw.choice(["grid", "scattered", "l"])
    boundary = None
    if shape == "l":
        points, boundary = l_shaped(draw)
        edge = [0, 1]
    elif shape == "grid":
        points = np.array([[x * 300.0, y * 300.0, 0] for y in range(4) for x in range(6)])
        edge = [0, 5]
    else:
        corners = np.array([[0, 0], [1800, 0], [1800, 1200], [0, 1200]], float)
        plan = np.vstack([corners, draw.uniform(50, [1750, 1150], (14, 2))])
        points = np.column_stack([plan, np.zeros(len(plan))])
        edge = [0, 1]
    plan = points[:, :2]
    drain = np.array([700.0, 500.0])
    points[:, 2] = np.linalg.norm(plan - drain, axis=1) * draw.choice([0.0, 0.015]) + draw.normal(0, 2.5, len(plan))
    if draw.random() < 0.2:
        points[:, 2] = np.round(points[:, 2])
    kind = draw.choice(["vertices", "vertex", "point", "line"])
    off = somewhere(draw) if shape != "l" else np.zeros(2)
    if kind == "vertices":
        given = {"vertices": [int(v) for v in draw.choice(len(points), 2, replace=False)]}
    elif kind == "vertex":
        given = {"vertices": [int(draw.integers(len(points)))]}
    elif kind == "point":
        given = {"point": (draw.uniform([100, 100], [900, 800]) + off).tolist()}
    else:
        start = draw.uniform([100, 100], [400, 700])
        given = {"line": [(start + off).tolist(), (start + draw.uniform([200, -90], [500, 90]) + off).tolist()]}
    points[:, :2] += off
    question = {
        "points": points.tolist(),
        "drain": given,
        "minimum_fall": 1 / 80,
        "maximum_fall": 1 / 50,
        "rule": "path",
    }
    if boundary is not None:
        question["boundary"] = (boundary + off).tolist()
    if draw.random() < 0.6:
        question["open_edges"] = [edge]
    if kind == "line" and draw.random() < 0.7:
        question["rule"] = "square-to-drain"
    return question


def cross(p, q):
    return p[0] * q[1] - p[1] * q[0]


def vertices(question, answer):
    points = np.array(question["points"] + answer["set_in"])
    return points[:, :2] - points[0, :2], points[:, 2], np.array(answer["triangles"])


def on_segment(plan, ends, slack=2e-3):
    a, b = ends
    along = np.clip((plan - a) @ (b - a) / ((b - a) @ (b - a)), 0, 1)
    return np.linalg.norm(plan - a - along[:, None] * (b - a), axis=1) <= slack


def outlets(question, plan):
    """The vertices of the drain, and those of the open edges."""
    drain, origin = question["drain"], np.array(question["points"][0][:2])
    if "vertices" in drain:
        down = np.isin(np.arange(len(plan)), drain["vertices"])
    elif "point" in drain:
        down = np.linalg.norm(plan - (np.array(drain["point"]) - origin), axis=1) <= 2e-3
    else:
        down = on_segment(plan, np.array(drain["line"]) - origin)
    out = np.zeros(len(plan), bool)
    for i, j in question.get("open_edges", []):
        out |= on_segment(plan, plan[[i, j]])
    return down, out & ~down


def joined(triangles, count):
    matrix = np.zeros((count, count), bool)
    for a, b, c in triangles:
        matrix[[a, b, c, b, c, a], [b, c, a, a, b, c]] = True
    return matrix


def flooded(matrix, z, leaves):
    """Spill levels, relaxed along every edge until nothing moves; `z` may hold many floors at once."""
    level = np.where(leaves, z, np.inf)
    i, j = np.nonzero(matrix)
    while True:
        lower = level.copy()
        np.minimum.at(lower.T, i, np.maximum(level[..., j], z[..., i]).T)
        if np.array_equal(lower, level):
            return level
        level = lower


def drainage(draw):
    question = room(draw)
    ours = truefall("drainage", question)
    plan, z, triangles = vertices(question, ours)
    down, out = outlets(question, plan)
    told(down.any(), f"drainage: the drain is in the surface: {question}")
    matrix = joined(triangles, len(plan))
    level = flooded(matrix, z, down | out)
    same(f"drainage: spill levels {question}", ours["spill_level"], level[: len(question["points"])], 1e-9, 1e-9)
    original_surface(question, ours, plan, z)
    ponds = standing(plan, z, triangles, matrix, level)
    same(
        "drainage: ponds",
        [[p[k] for k in ("volume", "area", "depth", "level")] for p in ours["ponds"]],
        ponds,
        1e-7,
        1e-9,
    )
    total = np.sum(ponds, axis=0) if len(ponds) else np.zeros(4)
    same("drainage: water", [ours["total_volume"], ours["total_area"]], total[:2], 1e-7, 1e-9)
    same("drainage: deepest", ours["max_depth"], max((p[2] for p in ponds), default=0), 1e-9, 1e-9)
    falls(question, ours, plan, z, triangles)
    ways(draw, question, plan, z, triangles, matrix, down | out)
    escapes(question, ours, plan, z, triangles, level, matrix, down, out)


def ways(draw, question, plan, z, triangles, matrix, leaves):
    """Drops let go inside facets: on the surface all the way, never up, at first straight down, to where they end."""
    origin = np.array(question["points"][0][:2])
    facets = draw.choice(len(triangles), 3)
    starts = [draw.dirichlet([2, 2, 2]) @ plan[triangles[facet]] for facet in facets]
    paths = truefall("drainage", question | {"from": [list(start + origin) for start in starts]})["paths"]
    for facet, slope, path in zip(facets, gradients(plan, z, triangles)[facets], paths):
        places = np.array(path["places"]) - [*origin, 0]
        tops = [height(plan, z, triangles, place) for place in places[:, :2]]
        same("drainage: a way lies on the surface", places[:, 2], tops, 1e-6, 1e-5)
        told(np.all(np.diff(places[:, 2]) <= 1e-9), f"drainage: a way climbs: {question}")
        legs = np.linalg.norm(np.diff(places[:, :2], axis=0), axis=1)
        same("drainage: the length of a way", path["run"], legs.sum(), 1e-9, 1e-9)
        if len(legs) and legs[0] > 1 and np.linalg.norm(slope) > 1e-9:
            first = (places[1, :2] - places[0, :2]) / legs[0]
            same("drainage: straight down at first", first, -slope / np.linalg.norm(slope), 1e-4, 1e-4)
        near = np.linalg.norm(plan - places[-1, :2], axis=1)
        if path["end"] == "stands" and len(legs):
            lowest = np.argmin(near)
            told(not leaves[lowest] and np.all(z[matrix[lowest]] >= z[lowest]), f"drainage: it stands: {question}")
        elif path["end"] != "stands":
            along = [on_segment(places[-1:, :2], plan[[i, j]])[0] for i, j in pairs(matrix, leaves)]
            told(near[leaves].min() < 2e-3 or any(along), f"drainage: it leaves: {question}")


def pairs(matrix, leaves):
    i, j = np.nonzero(matrix & leaves[:, None] & leaves)
    return zip(i, j)


def original_surface(question, ours, plan, z):
    """What the drain adds lies on the surface as it was: beside its facets without the drain."""
    if not len(ours["set_in"]):
        return
    read = len(question["points"])
    before = truefall(
        "straightedge-surface", {k: v for k, v in question.items() if k in ("points", "boundary")} | {"length": 1}
    )
    tops = [height(plan[:read], z[:read], np.array(before["triangles"]), place) for place in plan[read:]]
    same("drainage: set in at the surface's height", z[read:], tops, 1e-7, 1e-6)


def standing(plan, z, triangles, matrix, level):
    """Connected vertices below their common level, and the water over every facet that touches one."""
    wet, ponds = level - z > 1e-6, []
    left = set(np.flatnonzero(wet).tolist())
    while left:
        found, waiting = set(), [left.pop()]
        while waiting:
            here = waiting.pop()
            found.add(here)
            beside = [v for v in np.flatnonzero(matrix[here]) if v in left]
            left -= set(beside)
            waiting += beside
        surface = level[min(found)]
        total = np.zeros(2)
        for corners in triangles:
            if found & set(corners.tolist()):
                total += content(below(plan[corners], surface - z[corners]))
        ponds.append((total[1] * 1e-6, total[0], surface - min(z[v] for v in found), surface))
    return sorted(ponds, reverse=True)


def gradients(plan, z, triangles):
    found = []
    for corners in triangles:
        matrix = np.column_stack([plan[corners[1:]] - plan[corners[0]]])
        found.append(np.linalg.solve(matrix, z[corners[1:]] - z[corners[0]]))
    return np.array(found)


def falls(question, ours, plan, z, triangles):
    rise = gradients(plan, z, triangles)
    slopes = np.linalg.norm(rise, axis=1)
    if question["rule"] == "square-to-drain":
        a, b = np.array(question["drain"]["line"]) - np.array(question["points"][0][:2])
        square = np.array([a[1] - b[1], b[0] - a[0]]) / np.linalg.norm(b - a)
        side = np.sign((plan[triangles].mean(1) - a) @ square)
        slopes = rise @ square * side
    edges = plan[triangles[:, 1:]] - plan[triangles[:, :1]]
    areas = np.abs(np.linalg.det(edges)) / 2
    same("drainage: falls", [facet["slope"] for facet in ours["facets"]], slopes, 1e-6, 1e-8)
    same("drainage: areas", [facet["area"] for facet in ours["facets"]], areas, 1e-6, 1e-3)
    words = ["below" if s < 1 / 80 - 1e-9 else "above" if s > 1 / 50 + 1e-9 else "between" for s in slopes]
    equal("drainage: facets", [facet["verdict"] for facet in ours["facets"]], words)
    sums = [areas.sum()] + [areas[[word == name for word in words]].sum() for name in ("below", "above")]
    same(
        "drainage: areas in all",
        [ours[k] for k in ("area_total", "area_below_minimum", "area_above_maximum")],
        sums,
        1e-7,
        1e-2,
    )
    same(
        "drainage: least and most",
        [ours["facet_slope_min"], ours["facet_slope_max"]],
        [slopes.min(), slopes.max()],
        1e-6,
        1e-8,
    )


def escapes(question, ours, plan, z, triangles, level, matrix, down, out):
    """Drops on an even lattice over every facet, followed down facet by facet: their share is nearly the area's."""
    if not out.any():
        equal("drainage: nothing escapes a closed room", ours["escapes"], {"area": 0.0, "fraction": 0.0})
        return
    if np.array_equal(z[: len(question["points"])], np.round(z[: len(question["points"])])):
        return  # Where two ways out are equally high, water may take either.
    flow = Flow(plan, z, triangles, level, matrix, down, out)
    steps, escaped, whole = 7, 0.0, 0.0
    for corners in range(len(triangles)):
        tri = plan[triangles[corners]]
        area = abs(np.linalg.det(tri[1:] - tri[0])) / 2
        inside = 0
        for i in range(steps):
            for j in range(steps - i):
                for third in ((1 / 3, 1 / 3), (2 / 3, 2 / 3)):
                    u, v = (i + third[0]) / steps, (j + third[1]) / steps
                    if u + v < 1:
                        inside += flow.escapes(tri[0] + u * (tri[1] - tri[0]) + v * (tri[2] - tri[0]), corners)
        escaped += area * inside / steps**2
        whole += area
    told(
        abs(ours["escapes"]["fraction"] - escaped / whole) < 0.02,
        f"drainage: escapes {ours['escapes']['fraction']} {escaped / whole} {question}",
    )
    same("drainage: fraction", ours["escapes"]["fraction"], ours["escapes"]["area"] / ours["area_total"])


class Flow:
    """Drops that run straight down each facet, and down the lower edge where two facets meet in a valley."""

    def __init__(self, plan, z, triangles, level, matrix, down, out):
        self.plan, self.z, self.triangles, self.level, self.matrix = plan, z, triangles, level, matrix
        self.down, self.out = down, out
        self.rise = gradients(plan, z, triangles)
        self.beside = {}
        for k, corners in enumerate(triangles):
            for i in range(3):
                self.beside.setdefault(frozenset((corners[i], corners[(i + 1) % 3])), []).append(k)
        self.known = {}

    def spills(self, vertex):
        """Down the way of least level to an outlet: whether that is an open edge."""
        seen, waiting = {vertex}, [vertex]
        while waiting:
            here = waiting.pop()
            if self.down[here] or self.out[here]:
                return not self.down[here]
            nearer = [
                v for v in np.flatnonzero(self.matrix[here]) if v not in seen and self.level[v] <= self.level[here]
            ]
            seen |= set(nearer)
            waiting += sorted(nearer, key=lambda v: -self.level[v])
        return False

    def from_vertex(self, vertex):
        if vertex in self.known:
            return self.known[vertex]
        self.known[vertex] = answer = self.leaves_vertex(vertex)
        return answer

    def leaves_vertex(self, vertex):
        if self.down[vertex] or self.out[vertex]:
            return not self.down[vertex]
        best = (1e-12, None)
        for facet in np.flatnonzero((self.triangles == vertex).any(1)):
            others = [v for v in self.triangles[facet] if v != vertex]
            for v in others:
                way = self.plan[v] - self.plan[vertex]
                slope = (self.z[vertex] - self.z[v]) / np.linalg.norm(way)
                if slope > best[0]:
                    best = (slope, ("edge", v))
            way = -self.rise[facet]
            share = np.linalg.solve((self.plan[others] - self.plan[vertex]).T, way)
            if (share > 0).all() and np.linalg.norm(way) > best[0]:
                best = (np.linalg.norm(way), ("facet", facet, others))
        if best[1] is None:
            return self.spills(vertex)
        if best[1][0] == "edge":
            return self.from_vertex(best[1][1])
        _, facet, others = best[1]
        return self.through(self.plan[vertex], facet, frozenset(others))

    def escapes(self, place, facet):
        return self.through(place, facet, None)

    def through(self, place, facet, edge):
        """From a place inside a facet to the edge where it leaves, and on."""
        for _ in range(400):
            way = -self.rise[facet]
            if np.linalg.norm(way) < 1e-12:
                return self.spills(self.triangles[facet][0])
            corners = self.triangles[facet]
            best = (np.inf, None)
            for i in range(3):
                a, b = corners[i], corners[(i + 1) % 3]
                along, across = self.plan[b] - self.plan[a], place - self.plan[a]
                toward = along[0] * way[1] - along[1] * way[0]
                inside = np.sign(cross(along, self.plan[corners[(i + 2) % 3]] - self.plan[a]))
                if toward * inside < -1e-15:
                    step = -(along[0] * across[1] - along[1] * across[0]) / toward
                    best = min(best, (step, frozenset((a, b))), key=lambda one: one[0])
            step, edge = best
            place = place + max(step, 0) * way
            a, b = edge
            if self.down[a] and self.down[b]:
                return False
            over = [k for k in self.beside[edge] if k != facet]
            if not over:
                if self.out[a] | self.down[a] and self.out[b] | self.down[b] and (self.out[a] or self.out[b]):
                    return True
                return self.from_vertex(a if self.z[a] < self.z[b] else b)
            nxt = over[0]
            along, corner = self.plan[b] - self.plan[a], next(v for v in self.triangles[nxt] if v not in edge)
            inside = cross(along, self.plan[corner] - self.plan[a])
            onward = cross(along, -self.rise[nxt])
            if onward * inside <= 0:
                return self.from_vertex(a if self.z[a] < self.z[b] else b)
            facet = nxt
        return False


def pond_probability(draw):
    question = room(draw)
    if question["rule"] == "square-to-drain":
        question["rule"] = "path"
    sd, draws, depths, exact = 0.8, 6000, [0.5, 1, 2.5, 4], bool(draw.random() < 0.5)
    more = {"reading_sd": sd, "draws": draws, "seed": int(draw.integers(1e6)), "depths": depths, "drain_exact": exact}
    ours = truefall("pond-probability", question | more)
    plan, z, triangles = vertices(question, truefall("drainage", question))
    down, out = outlets(question, plan)
    read = len(question["points"])
    weights = np.eye(len(plan), read)
    before = np.array(
        truefall(
            "straightedge-surface", {k: v for k, v in question.items() if k in ("points", "boundary")} | {"length": 1}
        )["triangles"]
    )
    for vertex in range(read, len(plan)):
        weights[vertex] = [height(plan[:read], unit, before, plan[vertex]) for unit in np.eye(read)]
    drawn = z + draw.normal(0, sd, (draws, read)) @ weights.T
    if exact:
        drawn[:, down] = z[down]
    deepest = np.max(flooded(joined(triangles, len(plan)), drawn, down | out) - drawn, axis=1)
    error = np.sqrt(2 / draws)
    for depth in depths:
        p = np.mean(deepest > depth)
        found = ours["probability_deeper_than"][str(depth)]
        told(
            abs(found - p) <= 4 * error * np.sqrt(p * (1 - p)) + 4 / draws,
            f"ponds deeper than {depth}: {found} {p} {question | more}",
        )
    told(
        abs(ours["mean_max_depth"] - deepest.mean()) <= 4 * error * deepest.std(),
        f"ponds: mean {ours} {deepest.mean()} {question | more}",
    )
    if deepest.std() == 0:
        equal("ponds: none ever", [ours["mean_max_depth"], ours["sd_max_depth"]], [0.0, 0.0])
        return
    spread = np.sqrt(np.mean((deepest - deepest.mean()) ** 4) / deepest.std() ** 4 - 1) / 2
    told(
        abs(ours["sd_max_depth"] - deepest.std()) <= 4 * error * spread * deepest.std() + 1e-9,
        f"ponds: sd {ours} {deepest.std()}",
    )


CHECKS = (drainage, pond_probability)
