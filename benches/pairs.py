#!/usr/bin/env python3
"""Finds the ten best pairs held together among many yarns, beside numpy on the same yarns.

    pairs.py [ROWS]        (100000)

PROGRAM=path uses a program that is built already, WORK=folder keeps the records. Wants
numpy. The program judges pairs by all criteria; numpy only looks, for each yarn, for
those with which it comes within 8 % of the metres per 100 g of the pattern, in one sorted
list, and takes the ten nearest of all: less than the program does, and the same pairs to
look through. A figure is a whole process; the least of three runs, in turns.
"""
import os
import subprocess
import sys
import tempfile

from growth import PROGRAM, run, table

HERE = os.path.dirname(os.path.abspath(__file__))
SCAN = """
import csv, sys
import numpy as np
number = lambda text: float(text.split()[0])
with open(sys.argv[1], newline="") as yarns:
    rows = [row for row in csv.DictReader(yarns) if row["length"] != "unknown"]
per_metre = np.sort(np.array([number(row["mass"]) / number(row["length"]) for row in rows]))
wanted, found, best = 100 / 225, 0, np.empty(0)
for at in range(0, len(per_metre), 1000):
    sums = per_metre[at:at + 1000, None]
    low = np.searchsorted(per_metre, wanted / 1.08 - sums[:, 0])
    high = np.searchsorted(per_metre, wanted / 0.92 - sums[:, 0])
    for one, (low, high) in enumerate(zip(low, high), at):
        off = np.abs(per_metre[max(low, one):high] + per_metre[one] - wanted)
        found += len(off)
        best = np.concatenate([best, np.partition(off, 9)[:10] if len(off) > 10 else off])
    best = np.sort(best)[:10]
print(found, "pairs within 8 %; the nearest are off by", best, "g a metre")
"""

# A pattern that holds two yarns together.
TWO_YARNS = os.path.join(HERE, os.pardir, "sample-stash", "wetherlin.toml")

# Without a fibre, without a gauge, with a fibre that no yarn has, and with a rare one.
WANTS = ["225 m/100 g", "225 m/100 g, 22 sts / 10 cm", "225 m/100 g, 100% hemp", "225 m/100 g, 70% mohair 30% silk, brushed"]


def told(what, took):
    wall, processor, memory = took
    print(f"{what:<52}{wall * 1000:>10.0f} ms{processor * 1000:>10.0f} ms{memory:>8.1f} MiB")


def main():
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    with tempfile.TemporaryDirectory() as fresh:
        folder = os.environ.get("WORK", fresh)
        yarns = table(rows, folder)
        records = os.path.join(folder, f"pairs-{rows}.db")
        mine = [PROGRAM, "--db", records, "--no-backup"]
        if not os.path.exists(records):
            patterns = [os.path.join(HERE, "pattern.toml"), TWO_YARNS]
            for what in (["yarns", yarns], ["pattern", *patterns]):
                subprocess.run([*mine, "import", *what], check=True, stdout=subprocess.DEVNULL)
        find = [*mine, "find", "--pattern", "Bench Cardigan", "--together", "2", "--top", "10"]
        scan = [sys.executable, "-c", SCAN, yarns]
        runs = [(run(find, folder), run(scan, folder)) for _ in range(3)]
        found, scanned = (min(pair[at] for pair in runs) for at in (0, 1))
        print(f"{rows} yarns, load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors")
        subprocess.run(scan, check=True)
        told("find --together 2 --top 10", found)
        for wants in WANTS:
            told(f"  of {wants}", min(run([*mine, "find", "--wants", wants, "--together", "2"], folder) for _ in range(3)))
        beside = [*mine, "find", "--pattern", "Wetherlin", "--for", "B", "--top", "10"]
        told("find --for B, one of two yarns held together", min(run(beside, folder) for _ in range(3)))
        told("numpy, the pairs within 8 %", scanned)
        print(f"{'  ratio':<52}{found[0] / scanned[0]:>9.3f} x {found[1] / scanned[1]:>9.3f} x")


if __name__ == "__main__":
    main()
