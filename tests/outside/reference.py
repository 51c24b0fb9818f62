"""Answers the questions of tests/all/outside by other libraries and by exact
fractions. Standard input: a JSON list of questions, each an object whose `ask`
names a function of this file and whose other fields are its arguments. Standard
output: the JSON list of answers. The formulas are written down here anew, from
the criteria, and nothing is taken from the program but its table of fibres.
"""

import functools
import json
import math
import os
import sys
from fractions import Fraction

WEIGHTS = {"grist": 4, "gauge": 3, "weight class": 1, "fibre": 2, "construction": 1, "care": 1}
GAUGE_TOLERANCE = {"fitted": 0.025, "relaxed": 0.04, "unfitted": 0.08}
FIBRE_WEIGHTS = {"fitted": (1, 0.5), "relaxed": (0.7, 0.5), "unfitted": (0.3, 0.3)}
SMOOTH = {None, "plied", "cabled", "single", "roving"}
GROUP = {
    "plied": "spun", "cabled": "spun", "single": "single", "roving": "single",
    "chainette": "band", "blown": "band", "tape": "band", "ribbon": "band",
    "boucle": "textured", "slub": "textured",
    "chenille": "pile", "velvet": "pile", "eyelash": "pile", "brushed": "brushed",
}


@functools.cache
def units():
    import pint

    return pint.UnitRegistry()


def convert(value, source, target):
    """Pint: so many of the unit expression `source`, in `target`."""
    return (float(value) * units()(source)).to(target, "textile").magnitude


def check_digit(data):
    from stdnum import ean

    return ean.calc_check_digit(data)


def is_article_number(digits):
    from stdnum import ean

    return ean.is_valid(digits)


def skeins(count, skein, new, margin):
    """Exact: `count` skeins of `skein` in skeins of `new`, a margin in percent.

    A count that was rounded up to whole skeins stands for more than one fewer.
    """
    count, skein, new = Fraction(count), Fraction(skein), Fraction(new)
    factor = 1 + Fraction(margin) / 100
    most = math.ceil(count * skein * factor / new)
    fewest = math.ceil((math.ceil(count) - 1) * skein * factor / new)
    return [most, min(max(fewest, 1), most)]


def cover(need, held):
    """SciPy: the fewest lots, then the least left over; None where none covers."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    if sum(held) < need:
        return None
    found = milp(
        [sum(held) + 1 + metres for metres in held],
        integrality=[1] * len(held),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint([held], lb=need),
        options={"mip_rel_gap": 0},
    )
    used = [metres for metres, take in zip(held, found.x) if take > 0.5]
    return [len(used), sum(used) - need]


def plan(projects, holds):
    """HiGHS through SciPy: which projects are made, in order, and the least sum of
    departures. A project is a list of roles, a role a list of [shade, metres, departure].
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    choices = [
        (p, r, shade, metres, departure)
        for p, roles in enumerate(projects)
        for r, role in enumerate(roles)
        for shade, metres, departure in role
    ]
    columns = len(choices) + len(projects)

    def row(of_choice, made=None):
        line = np.zeros(columns)
        for at, choice in enumerate(choices):
            line[at] = of_choice(*choice)
        if made is not None:
            line[len(choices) + made] = -1
        return line

    rules = []
    for p, roles in enumerate(projects):
        for r in range(len(roles)):
            rules.append((row(lambda q, s, *_: (q, s) == (p, r), p), 0, 0))
        for shade in range(len(holds)):
            rules.append((row(lambda q, _, s, *__: (q, s) == (p, shade)), 0, 1))
    for shade, metres in enumerate(holds):
        rules.append((row(lambda _, __, s, m, ___: m if s == shade else 0), 0, metres))

    def solve(goal, more):
        lines, low, high = zip(*(rules + more))
        found = milp(
            goal,
            integrality=np.ones(columns),
            bounds=Bounds(0, 1),
            constraints=LinearConstraint(np.array(lines), low, high),
            options={"mip_rel_gap": 0},
        )
        return found.fun

    def is_made(p):
        line = np.zeros(columns)
        line[len(choices) + p] = 1
        return line

    every = sum(is_made(p) for p in range(len(projects)))
    fixed = [(every, round(-solve(-every, [])), len(projects))]
    made = []
    for p in range(len(projects)):
        made.append(round(-solve(-is_made(p), fixed)))
        fixed.append((is_made(p), made[-1], made[-1]))
    return [made, solve(row(lambda *choice: choice[4]), fixed)]


def chance(low, high, skein, label, own, skeins):
    """SciPy: the chance that so many skeins do not reach, over needs from low to
    high that are equally likely; skeins and use are normal."""
    from scipy.integrate import quad
    from scipy.stats import norm

    held = skeins * skein

    def short(need):
        return norm.sf(held, loc=need, scale=math.hypot(need * own, math.sqrt(skeins) * skein * label))

    if high == low:
        return short(high)
    points = [held] if low < held < high else None
    return quad(short, low, high, points=points, epsabs=1e-11, epsrel=1e-11, limit=500)[0] / (high - low)


def mean(blend, value):
    """Mean by mass share; None where over a quarter has no value."""
    known = [(share, value(name)) for name, share in blend.items() if value(name) is not None]
    share = sum(share for share, _ in known)
    if share < 0.75 * sum(blend.values()) - 1e-9:
        return None
    return sum(s * v for s, v in known) / share


def density(blend, fibres):
    """Specific volumes add by mass share."""
    return 1 / mean(blend, lambda name: 1 / fibres[name]["density"])


def fibre_departure(a, b, fibres, fit):
    """The part that departs most, each times its weight; elastic fibres stay out of
    recovery and extension."""
    if a == b:
        return 0.0

    def value(key):
        def of(name):
            elastic = (fibres[name]["extension"] or 0) > 100
            return None if elastic and key != "regain" else fibres[name][key]

        return of

    def part(key, scale, weight):
        x, y = mean(a, value(key)), mean(b, value(key))
        return None if x is None or y is None else scale(x, y) * weight

    spring, moisture = FIBRE_WEIGHTS[fit]
    parts = [
        part("recovery", lambda x, y: abs(x - y) / 15, spring),
        part("extension", lambda x, y: abs(math.log(x / y)) / math.log(2), spring),
        part("regain", lambda x, y: abs(x - y) / 12, moisture),
    ]
    return max((p for p in parts if p is not None), default=None)


def grist(yarn):
    """Metres per gram of all strands: mass adds, length does not."""
    return 1 / sum([yarn["grams"] / yarn["metres"]] * yarn["strands"])


def gauge_ratio(wanted, offered, fibres, comparable):
    if wanted["stitches"] is None:
        return None
    if offered["stitches"] is not None:
        c = [x / math.sqrt(offered["strands"]) for x in offered["stitches"]]
        # a label is that of one strand, a pattern's gauge that of the fabric
        n = wanted["strands"] if wanted["gauge_of"] == "label" else 1
        r = [x / math.sqrt(n) for x in wanted["stitches"]]
        if c[0] > r[1]:
            return c[0] / r[1]
        return c[1] / r[0] if c[1] < r[0] else 1.0
    finer = grist(offered) / grist(wanted)
    if not comparable or not 0.5 <= finer <= 2:
        return None
    if wanted["blend"] and offered["blend"]:
        finer *= density(offered["blend"], fibres) / density(wanted["blend"], fibres)
    return math.sqrt(finer)


def departures(wanted, offered, fibres):
    found = {}
    comparable = offered["construction"] in SMOOTH
    if comparable:
        ratio = grist(offered) / grist(wanted)
        off = abs(ratio - 1)
        if wanted["blend"] and offered["blend"]:
            denser = density(offered["blend"], fibres) / density(wanted["blend"], fibres)
            if max(denser, 1 / denser) > 1.02:
                off = min(off, abs(ratio * denser - 1))
        found["grist"] = off / wanted["tolerance"]
    ratio = gauge_ratio(wanted, offered, fibres, comparable)
    if ratio is not None:
        tolerance = GAUGE_TOLERANCE[wanted["fit"]]
        # of thickness, or of a label for another number of strands
        strands = offered["strands"] > 1 or wanted["strands"] > 1 and wanted["gauge_of"] == "label"
        if offered["stitches"] is None or strands:
            tolerance = max(tolerance, 0.1)
        found["gauge"] = abs(ratio - 1) / tolerance
    if wanted["classes"] and offered["classes"] and wanted["strands"] == offered["strands"]:
        pairs = [abs(a - b) for a in wanted["classes"] for b in offered["classes"]]
        found["weight class"] = min(pairs)
    if wanted["blend"] and offered["blend"]:
        fibre = fibre_departure(offered["blend"], wanted["blend"], fibres, wanted["fit"])
        if fibre is not None:
            found["fibre"] = fibre
    # what the pattern does not state is plied
    a, b = GROUP.get(wanted["construction"] or "plied"), GROUP.get(offered["construction"])
    if a and b:
        spun = {a, b} == {"spun", "single"}
        found["construction"] = 0 if a == b else 0.5 if spun else 1.25
    return found


def rank(wanted, candidates, fibres):
    """Departures, overall, whether it should work; and the order, the verdict
    (0 the best) taken as given."""
    answers, places = [], []
    for place, offered in enumerate(candidates):
        found = departures(wanted, offered, fibres)
        weight = sum(WEIGHTS[name] for name in found)
        squares = sum(WEIGHTS[name] * d * d for name, d in found.items())
        overall = math.sqrt(squares / weight) if weight else None
        enough = "grist" in found and ("gauge" in found or "weight class" in found)
        # what a yarn is made of has to be known
        enough = enough and offered["blend"] and ("fibre" in found or not wanted["blend"])
        should = enough and all(d <= 1 + 1e-9 for d in found.values())
        answers.append({"departures": found, "overall": overall, "should_work": bool(should)})
        asked = [name for name in WEIGHTS if name != "care"]
        # all have metres per gram here, so it is missing only where it cannot be compared
        missing = {name: 1.5 if name == "grist" else 0.5 for name in asked}
        squares = sum(WEIGHTS[name] * found.get(name, missing[name]) ** 2 for name in asked)
        last = math.sqrt(squares / sum(WEIGHTS[name] for name in asked))
        places.append((offered["verdict"], last, offered["name"], place))
    return {"judged": answers, "order": [place for *_, place in sorted(places)]}


def answer(question):
    return globals()[question.pop("ask")](**question)


# What a solver prints goes to standard error, so that the answers stand alone.
answers = os.fdopen(os.dup(1), "w")
os.dup2(2, 1)
json.dump([answer(question) for question in json.load(sys.stdin)], answers)
