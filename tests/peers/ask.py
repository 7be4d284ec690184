"""Asking Truefall, and counting what agrees."""

import json
import os
import subprocess
from collections import Counter

import numpy as np

counts = Counter()
compared = set()


def asked(operation, text):
    """Exit status, answer and refusal of `truefall compute` on this text."""
    words = [os.environ["TRUEFALL"], "compute", operation]
    done = subprocess.run(words, input=text, capture_output=True, text=True, check=False)
    return done.returncode, done.stdout, done.stderr


def truefall(operation, question):
    """The answer to a question that is answered, to be compared."""
    compared.add(operation)
    status, answer, refusal = asked(operation, json.dumps(question))
    if status:
        raise SystemExit(f"{operation} refused {json.dumps(question)}: {refusal}")
    return json.loads(answer)


def operations():
    """The names of all operations, as the program says them."""
    _, _, refusal = asked("none", "{}")
    return set(json.loads(refusal)["error"]["message"].split("There are: ")[1].rstrip(".").split(", "))


def told(fine, what):
    counts["passed" if fine else "failed"] += 1
    if not fine and counts["failed"] <= 40:
        print(what)
    return fine


def numbers(values):
    """Values as floats, a missing one as NaN."""
    return np.array([np.nan if value is None else value for value in np.ravel(np.array(values, object))], float)


def same(what, ours, theirs, relative=1e-9, absolute=1e-12):
    ours, theirs = numbers(ours), numbers(theirs)
    fine = ours.shape == theirs.shape and np.allclose(ours, theirs, rtol=relative, atol=absolute, equal_nan=True)
    return told(fine, f"{what}: Truefall {ours}, the peer {theirs}")


def equal(what, ours, theirs):
    return told(ours == theirs, f"{what}: Truefall {ours}, the peer {theirs}")


def somewhere(draw):
    """A corner of the room on a site's map: here, or a few thousand kilometres off."""
    return draw.choice([0.0, 4.5e9]) * np.array([1.0, 0.6])


def floor(draw, count=40, tilt=0.01, sd=0.8, extent=3000):
    """Readings over a room of about three metres, anywhere on a site's map."""
    plan = draw.uniform(0, extent, (count, 2)) + somewhere(draw)
    inside = plan - plan.mean(0)
    heights = inside @ draw.uniform(-tilt, tilt, 2) + draw.normal(0, sd, count)
    return np.column_stack([plan, heights])


def rows(points):
    """Points as JSON, a height that is not a number as a missing reading."""
    return [[x, y, None if np.isnan(z) else z] for x, y, z in np.asarray(points, float).tolist()]
