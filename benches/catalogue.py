#!/usr/bin/env python3
"""Writes a catalogue of invented yarns as a table that `understudy import yarns` reads.

    catalogue.py ROWS [SEED [random]] > yarns.csv

The same rows and seed give the same file. Makers and names are made of
syllables and belong to nobody. About one row in fifty gives no length, one in
ten is brushed, looped or a tube, four in five print a gauge. With `random` every
row prints one, any at all, half of them as a range.
"""
import csv
import random
import sys

SYLLABLES = "ba bel dor du fen gar hol im ka lan lu mar mo nor ol pel qua ren ro sal sto tam tor ul va wen yar zel".split()
# class, its name, length per mass in m/100 g from to, stitches over 10 cm from to, needle
KINDS = [
    ("0", "Lace", 500, 850, 30, 36, "2.25 mm"),
    ("1", "Sock", 360, 440, 27, 32, "2.5 mm"),
    ("2", "Fine", 280, 360, 24, 27, "3.25 mm"),
    ("3", "DK", 200, 270, 21, 24, "4 mm"),
    ("4", "Aran", 150, 195, 16, 20, "5 mm"),
    ("5", "Chunky", 90, 140, 12, 15, "6.5 mm"),
    ("6", "Bulky", 45, 85, 7, 11, "10 mm"),
]
FIBRES = [
    "100% wool", "75% wool 25% nylon", "100% cotton", "50% wool 50% acrylic", "100% acrylic",
    "70% alpaca 30% silk", "100% linen", "60% cotton 40% acrylic", "80% wool 20% alpaca", "100% alpaca",
    "55% wool 30% acrylic 15% nylon", "85% wool 15% cashmere", "50% cotton 50% viscose", "70% mohair 30% silk",
]
SMOOTH = ["plied", "plied", "plied", "plied", "3 plied", "cabled", "single", ""]
OTHER = ["brushed", "boucle", "chainette", "blown", "slub", "tape"]
CARE = ["machine wash", "hand wash", "", "dry clean", "machine wash, 30 C"]
COLUMNS = "maker,name,length,mass,class,fibre,construction,gauge,needle,care,price,gtin,notes".split(",")


def word(number, syllables):
    """A word for a number, another word for another number."""
    parts = []
    for _ in range(syllables):
        number, at = divmod(number, len(SYLLABLES))
        parts.append(SYLLABLES[at])
    return "".join(parts).capitalize()


def gtin(number):
    digits = f"20{number:010d}"
    total = sum(int(d) * (3 if i % 2 else 1) for i, d in enumerate(digits))
    return f"{digits}{-total % 10}"


def usual_gauge(chance, stitches):
    return f"{stitches} sts x {round(stitches * 1.35)} rows / 10 cm" if chance.random() < 0.8 else ""


def any_gauge(chance):
    fewest = chance.randrange(60, 450) / 10
    most = f"-{fewest + chance.randrange(1, 60) / 10:.1f}" if chance.random() < 0.5 else ""
    return f"{fewest}{most} sts / 10 cm"


def row(chance, number, gauge_is_random):
    kind, called, low, high, fewest, most, needle = chance.choices(KINDS, [1, 3, 3, 5, 4, 2, 1])[0]
    grams = chance.choice([50, 50, 100, 100, 25, 150])
    metres = round(chance.uniform(low, high) * grams / 100)
    stitches = chance.randint(fewest, most)
    built = chance.choice(OTHER) if chance.random() < 0.1 else chance.choice(SMOOTH)
    blend = chance.choice(FIBRES)
    if chance.random() < 0.05:
        wool = chance.randrange(51, 95)
        blend = f"{wool}% wool {100 - wool}% nylon"
    return [
        word(chance.randrange(2000), 3),
        f"{word(number, 5)} {called}",
        "unknown" if chance.random() < 0.02 else f"{metres} m",
        f"{grams} g",
        kind,
        blend,
        built,
        any_gauge(chance) if gauge_is_random else usual_gauge(chance, stitches),
        needle,
        chance.choice(CARE),
        f"{chance.randrange(250, 2500) / 100:.2f} GBP",
        gtin(number) if chance.random() < 0.5 else "",
        "soft, splits" if chance.random() < 0.1 else "",
    ]


def main():
    rows = int(sys.argv[1])
    chance = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 4)
    gauge_is_random = sys.argv[3:] == ["random"]
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(COLUMNS)
    for number in range(rows):
        out.writerow(row(chance, number, gauge_is_random))


if __name__ == "__main__":
    main()
