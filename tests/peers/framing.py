"""The framing plan written a second time, straight from its definition: every height of a fine grid is tried."""

import numpy as np
from scipy import optimize

from ask import equal, same, told, truefall

SLACK = 1e-6
STRIP = {"least": 1.5875, "sheet_below": 3.175, "most": 19.05, "tall": 38.1, "allow_tall": False}
COST = {"strip": 1, "strip_mm": 0.02, "sister": 10, "dress": 2, "door_mm": 0.5}


def read(joist, stations):
    known = [(y, z) for y, z in zip(stations, joist["tops"]) if z is not None]
    return np.array(known, float).reshape(-1, 2).T


def sags(joist, stations, u, ratio):
    y, z = read(joist, stations)
    if len(y) < 2:
        return False
    drop = max(0.0, np.max(np.interp(y, y[[0, -1]], z[[0, -1]]) - z))
    return (drop - 2 * u) / (y[-1] - y[0]) > 1 / ratio + 1e-9


def above(y, z, target):
    """The extents over which a joist stands above a level target, and how far."""
    if len(y) == 1:
        return [(y[0], y[0], z[0] - target)] if z[0] - target > SLACK else []
    low, high = z[:-1] - target, z[1:] - target
    crossed = (low > 0) != (high > 0)
    share = low[crossed] / (low[crossed] - high[crossed])
    turns = np.sort(np.concatenate([y, y[:-1][crossed] + share * np.diff(y)[crossed]]))
    rise = np.interp(turns, y, z) - target
    extents = []
    for k in np.flatnonzero((rise[:-1] + rise[1:]) / 2 > SLACK / 2):
        if extents and extents[-1][1] == turns[k] and rise[k] > SLACK:
            extents[-1][1:] = [turns[k + 1], max(extents[-1][2], rise[k + 1])]
        else:
            extents.append([turns[k], turns[k + 1], max(rise[k], rise[k + 1])])
    return [extent for extent in extents if extent[2] > SLACK]


def own_way(joist, extents, most):
    low, high = (joist["first_bearing"] + joist["span"] * share / 3 for share in (1, 2))
    if joist["kind"] != "sawn":
        return not extents
    clear = lambda start, end: end < low + SLACK or start > high - SLACK
    return all(depth <= most + SLACK and clear(start, end) for start, end, depth in extents)


def approved_way(joist, extents):
    approval = joist["approval"]
    if not approval:
        return not extents
    inside = lambda start, end: start >= approval["from"] - SLACK and end <= approval["to"] + SLACK
    return all(depth <= approval["depth"] + SLACK and inside(start, end) for start, end, depth in extents)


def permitted(rule, joist, y, z, target, most):
    extents = above(y, z, target)
    if rule == "level-nothing-cut":
        return not extents
    if rule == "level-by-approval" and joist["kind"] == "sawn":
        if all(depth <= most + SLACK for *_, depth in extents):
            return True
        return approved_way(joist, extents)
    return own_way(joist, extents, most) or approved_way(joist, extents)


def lowest(rule, joists, stations, most):
    """The lowest height of a grid of 0.02 mm that every joist permits, then halved down to a billionth."""
    known = [(joist, *read(joist, stations)) for joist in joists]
    fine = lambda target: all(permitted(rule, joist, y, z, target, most) for joist, y, z in known)
    top = max(z.max() for *_, z in known)
    grid = top - np.arange(0, 12, 0.02)
    first = next((k for k in range(len(grid)) if not fine(grid[k])), len(grid) - 1)
    later = [k for k in range(first, min(first + 40, len(grid))) if fine(grid[k])]
    told(not later, f"{rule}: permitted again below what is not: {later}")
    low, high = grid[first], grid[max(first - 1, 0)]
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if fine(middle) else (middle, high)
    return high


def flat(joists, stations, most, centre):
    """The plane of the least sum of lifts, by HiGHS; on a tie the smaller tilts, one after the other."""
    spots = np.array([(j["x"] - centre[0], y - centre[1], z) for j in joists for y, z in read(j, stations).T])
    x, y, z = spots.T
    scale, base = 1000.0, z.max()
    matrix = -np.column_stack([np.ones(len(x)), x / scale, -x / scale, y / scale, -y / scale])
    right = -(z - base)
    bounds = [(None, None)] + [(0, most * scale)] * 4
    lifts = -matrix.sum(0)
    best = optimize.linprog(lifts, matrix, right, bounds=bounds)
    held_matrix, held_right = np.vstack([matrix, lifts]), np.append(right, best.fun + 1e-6)
    along = optimize.linprog([0, 0, 0, 1, 1], held_matrix, held_right, bounds=bounds)
    held_matrix, held_right = np.vstack([held_matrix, [0, 0, 0, 1, 1]]), np.append(held_right, along.fun + 1e-9)
    across = optimize.linprog([0, 1, 1, 0, 0], held_matrix, held_right, bounds=bounds)
    return best.fun - (z - base).sum(), across.fun / scale, along.fun / scale


def work(name, joist, stations, target, question, sistered):
    """Action, lifts and cuts of one joist under a target given at its stations."""
    y, z = read(joist, stations)
    strip, most = STRIP | question.get("strip", {}), question.get("dress", {"most": 3.175})["most"]
    heights = dict(zip(stations, target))
    lifts = [None if top is None else heights[at] - top for at, top in zip(stations, joist["tops"])]
    cuts = [None if top is None else 0.0 for top in joist["tops"]]
    if sistered == "step 1":
        return "sister", lifts, cuts, False
    known = np.array([heights[at] for at in y])
    extents = above(y, z - known, 0.0) if len(y) else []
    own, approval = own_way(joist, extents, most), joist["approval"] and approved_way(joist, extents)
    asks = False
    listed = [not asks] * len(extents)
    if extents and not own and not approval:
        asks = name not in ("level-by-approval", "level-sister-high")
        listed = [not asks] * len(extents)
    if asks:
        # What may be cut the joist's own way is still dressed; by an approval likewise, whichever permits more.
        ways = [[own_way(joist, [e], most) for e in extents], [approved_way(joist, [e]) for e in extents]]
        by_approval = joist["approval"] and lowest_of(joist, y, z, most, approved_way) < lowest_of(
            joist, y, z, most, own_way
        )
        listed = ways[1] if by_approval else ways[0]
    for k, (at, lift) in enumerate(zip(stations, lifts)):
        if lift is not None and -lift > SLACK:
            inside = [fine for (low, high, _), fine in zip(extents, listed) if low - SLACK <= at <= high + SLACK]
            cuts[k] = -lift if any(inside) else 0.0
    if sistered:
        return "sister", lifts, cuts, False
    if asks:
        return "ask-engineer", lifts, cuts, True
    largest = max((lift for lift in lifts if lift is not None), default=0.0)
    if largest < strip["least"] - SLACK:
        action = "leave"
    elif largest < strip["sheet_below"] - SLACK:
        action = "sheet"
    elif largest <= strip["most"] + SLACK:
        action = "strip"
    else:
        action = "tall-strip" if strip["allow_tall"] and largest <= strip["tall"] + SLACK else "sister"
    if extents and action != "sister":
        action = "dress" if action == "leave" else "dress-and-strip"
    return action, lifts, cuts, False


def lowest_of(joist, y, z, most, way):
    fine = (lambda e: own_way(joist, e, most)) if way is own_way else (lambda e: approved_way(joist, e))
    low, high = z.max() - 60, z.max()
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if fine(above(y, z, middle)) else (middle, high)
    return high


def strips(stations, joist, lifts, least):
    """Maximal runs of stations with at least this lift; a station that was not read joins its neighbours."""
    known = [lift for lift in lifts if lift is not None]
    runs, on = 0, False
    for lift in known:
        now = lift >= least - SLACK
        runs += now and not on
        on = now
    return runs


def counted(works, rise, question):
    cost = COST | question.get("cost", {})
    total = cost["door_mm"] * max(0.0, rise or 0.0)
    for action, lifts, cuts, runs in works:
        if action == "sister":
            total += cost["sister"]
            continue
        if action in ("sheet", "strip", "tall-strip", "dress-and-strip"):
            lifted = sum(max(0.0, lift) for lift in lifts if lift is not None)
            total += cost["strip"] * max(1, runs) + cost["strip_mm"] * lifted
        if any(cut for cut in cuts if cut):
            total += cost["dress"]
    return total


def door(question, plane):
    doorway = question.get("doorway")
    if not doorway:
        return []
    stations, rises = question["station_y"], []
    joists = sorted(question["joists"], key=lambda joist: joist["x"])
    for x in (doorway["from"], doorway["to"]):
        k = int(np.clip(np.searchsorted([j["x"] for j in joists], x), 1, len(joists) - 1))
        near, far = joists[k - 1], joists[k]
        share = (x - near["x"]) / (far["x"] - near["x"])
        tops = near["tops"][0], far["tops"][0]
        if share in (0, 1):
            top = tops[int(share)]
        else:
            top = None if None in tops else tops[0] + share * (tops[1] - tops[0])
        rises.append(None if top is None else plane(x, stations[0]) - top)
    return rises


def room(draw):
    count, stations = draw.integers(3, 8), np.cumsum(draw.uniform(400, 800, draw.integers(2, 6))).tolist()
    whole = draw.random() < 0.4
    joists = []
    for k in range(count):
        crown = draw.normal(0, 4) * np.sin(np.linspace(0.3, 2.6, len(stations)))
        tops = crown + draw.normal(0, 2.5, len(stations)) + draw.normal(0, 4)
        tops = np.round(tops / 1.5875) * 1.5875 if whole else tops
        tops = [None if draw.random() < 0.08 else float(z) for z in tops]
        approval = None
        if draw.random() < 0.3:
            start = draw.uniform(-200, 1500)
            approval = {"depth": float(draw.uniform(0, 12)), "from": start, "to": start + draw.uniform(200, 2500)}
        joists.append(
            {
                "id": f"J{k + 1}",
                "x": 406.4 * k + draw.uniform(-20, 20),
                "tops": tops,
                "kind": str(draw.choice(["sawn", "sawn", "engineered", "unknown"])),
                "depth": 234.95,
                "span": float(draw.uniform(2500, 4000)),
                "first_bearing": float(draw.uniform(-700, 100)),
                "sound": [True, True, True, None, False][draw.integers(5)],
                "approval": approval,
            }
        )
    if all(z is None for z in joists[0]["tops"]):
        joists[0]["tops"][0] = 0.0
    question = {
        "station_y": stations,
        "joists": joists,
        "u": float(draw.choice([0.0, 0.3, 0.79375])),
        "sag_ratio": float(draw.choice([360, 240, 60])),
        "doorway": {"from": 300.0, "to": float(draw.choice([1100.0, 5000.0]))} if draw.random() < 0.7 else None,
        "door_budget": float(draw.uniform(2, 15)) if draw.random() < 0.5 else None,
        "height": float(draw.uniform(-6, 12)),
        "max_tilt": float(draw.choice([0, 0.004, 0.02])),
        "wet_room": bool(draw.random() < 0.5),
        "dress": {"most": float(draw.choice([3.175, 2.0]))},
    }
    if draw.random() < 0.3:
        question["strip"] = {"allow_tall": True, "most": 9.525}
    if draw.random() < 0.3:
        question["cost"] = {"sister": 4, "strip_mm": 0.1}
    return question


def framing_plan(draw):
    question = room(draw)
    stations, joists, most = question["station_y"], question["joists"], question["dress"]["most"]
    ours = truefall("framing-plan", question)
    shown = {one["name"]: one for one in ours["alternatives"]}
    centre = np.mean([joist["x"] for joist in joists]), np.mean(stations)
    sistered = [j["sound"] is False or sags(j, stations, question["u"], question["sag_ratio"]) for j in joists]
    setting = [j for j, out in zip(joists, sistered) if not out and len(read(j, stations)[0])]
    heights, also = {"held": question["height"]}, None
    if setting:
        heights["level-nothing-cut"] = lowest("level-nothing-cut", setting, stations, most)
        dressed = lowest("level-dressed", setting, stations, most)
        if dressed < heights["level-nothing-cut"] - 1e-5:
            heights["level-dressed"] = dressed
        heights["level-by-approval"] = lowest("level-by-approval", setting, stations, most)
        tops = [read(j, stations)[1].max() for j in setting]
        also = setting[int(np.argmax(tops))]
        others = [top for joist, top in zip(setting, tops) if joist is not also]
        if others:
            heights["level-sister-high"] = max(others)
        if question["max_tilt"]:
            heights["flat-not-level"] = None
    equal(f"framing: which alternatives {question}", sorted(shown), sorted(heights))
    ranked = []
    for name, height in heights.items():
        one = shown.get(name)
        if one is None:
            continue
        if name == "flat-not-level":
            total, tilt_x, tilt_y = flat(setting, stations, question["max_tilt"], centre)
            lifts = sum(
                one["height"] + one["tilt_x"] * (j["x"] - centre[0]) + one["tilt_y"] * (y - centre[1]) - z
                for j in setting
                for y, z in read(j, stations).T
            )
            same(f"framing: sum of lifts {question}", lifts, total, 1e-6, 2e-5)
            same(f"framing: tilts {question}", [abs(one["tilt_x"]), abs(one["tilt_y"])], [tilt_x, tilt_y], 1e-3, 2e-6)
        else:
            # The grid permits what stands above by no more than a length's own tolerance.
            same(f"framing: {name} {question}", one["height"], height, 0, 2.5e-6)
            same("framing: level", [one["tilt_x"], one["tilt_y"]], [0, 0])
        plane = lambda x, y: one["height"] + one["tilt_x"] * (x - centre[0]) + one["tilt_y"] * (y - centre[1])
        works, asks = [], name in ("level-by-approval", "level-sister-high")
        for joist, out, found in zip(joists, sistered, one["joists"]):
            target = [plane(joist["x"], y) for y in stations]
            out = "step 1" if out else name == "level-sister-high" and joist is also
            action, lifts, cuts, engineer = work(name, joist, stations, target, question, out)
            equal(f"framing: {name}, {joist['id']} {question}", found["action"], action)
            same(f"framing: {name}, lifts of {joist['id']}", found["lifts"], lifts, 1e-9, 1e-8)
            same(f"framing: {name}, cuts of {joist['id']} {question}", found["cuts"], cuts, 1e-9, 3e-6)
            works.append(
                (action, lifts, cuts, strips(stations, joist, lifts, (STRIP | question.get("strip", {}))["least"]))
            )
            asks |= engineer
        rises = door(question, plane)
        same("framing: at the door", one["door_rise"], rises)
        known = [rise for rise in rises if rise is not None]
        over = bool(question["door_budget"] is not None and known and max(known) > question["door_budget"] + SLACK)
        equal(f"framing: {name}, approval {question}", one["needs_approval"], asks)
        equal("framing: budget", one["over_door_budget"], over)
        objective = counted(works, max(known, default=None), question)
        same(f"framing: {name}, objective {question}", one["objective"], objective, 1e-9, 1e-6)
        never = asks or (name == "flat-not-level" and question["wet_room"])
        ranked.append((never, over, round(objective, 6), name))
    ranked.sort(key=lambda one: one[:3])
    keys = {one[3]: one[:3] for one in ranked}
    equal("framing: best first", [keys[one["name"]] for one in ours["alternatives"]], [one[:3] for one in ranked])
    may = [one for one in ours["alternatives"][:1] if not keys[one["name"]][0]]
    equal("framing: best", ours["best"], may[0]["name"] if may else None)
    unseen = sum(joist["sound"] is None for joist in joists)
    equal("framing: not looked at", sum(p["kind"] == "not-looked-at" for p in ours["problems"]), unseen)


def joists(draw):
    question = room(draw)
    stations, u = question["station_y"], question["u"]
    for joist in question["joists"]:
        if draw.random() < 0.5:
            joist["other_edge"] = [None if draw.random() < 0.3 else float(z) for z in draw.normal(0, 3, len(stations))]
    ours = truefall("joists", question)["joists"]
    tops, calm = [], []
    for joist, found in zip(question["joists"], ours):
        other = joist.get("other_edge") or [None] * len(stations)
        both = [None if None in pair else pair[1] - pair[0] for pair in zip(joist["tops"], other)]
        same("joists: twist", found["twist"], both)
        higher = [max((z for z in pair if z is not None), default=None) for pair in zip(joist["tops"], other)]
        joist = joist | {"tops": higher}
        tops.append(joist)
        y, z = read(joist, stations)
        equal("joists: sagging", found["sagging"], bool(sags(joist, stations, u, question["sag_ratio"])))
        same("joists: out of level", found["out_of_level"], z[-1] - z[0] if len(y) > 1 else None)
        if len(y) < 3:
            equal("joists: too few", found["crown_or_sag"], None)
            calm.append(len(y) > 0)
            continue
        departure = (z - np.interp(y, y[[0, -1]], z[[0, -1]]))[1:-1]
        k = int(np.argmax(np.abs(departure)))
        share = (y[k + 1] - y[0]) / (y[-1] - y[0])
        expected = [departure[k], y[k + 1], u * np.sqrt(1 + share**2 + (1 - share) ** 2)]
        same("joists: crown or sag", [found["crown_or_sag"][name] for name in ("value", "station", "u")], expected)
        calm.append(abs(departure[k]) <= 6.35 + SLACK)
    among = [joist for joist, kept in zip(tops, calm) if kept] if sum(calm) >= 2 else tops
    spots = np.array([(j["x"], y, z) for j in among for y, z in read(j, stations).T])
    centre = spots.mean(0)
    matrix = np.column_stack([np.ones(len(spots)), spots[:, :2] - centre[:2]])
    (height, across, along), *_ = np.linalg.lstsq(matrix, spots[:, 2], rcond=None)
    for joist, found in zip(tops, ours):
        over = [
            None if z is None else z - height - across * (joist["x"] - centre[0]) - along * (y - centre[1])
            for y, z in zip(stations, joist["tops"])
        ]
        same("joists: of the rest", found["of_the_rest"], over, 1e-8, 1e-9)


CHECKS = (framing_plan, joists)
