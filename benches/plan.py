#!/usr/bin/env python3
"""Plans kept projects from a stash of many shades, beside sqlite3 reading the same records.

    plan.py [PROJECTS [SHADES [SEED]]]        (20 projects, 200 shades, seed 4)

PROGRAM=path uses a program that is built already. Yarns, patterns and needs are invented,
mostly DK, so that many projects want the same shades; every third pattern has two yarns. A
figure is a whole process, reading its records; the least of five runs, in turns.
"""
import csv
import json
import os
import random
import subprocess
import sys
import tempfile

from catalogue import COLUMNS, row
from growth import PROGRAM, run

TABLES = "facts yarn stock_lot stock_entry shade pattern pattern_size pattern_yarn pattern_need project".split()


def pattern(number, chance):
    yarns = 2 if number % 3 == 2 else 1
    text = [
        f'pattern = "Bench {number}"',
        'purpose = "garment"\nfit = "relaxed"\ngauge = "22 sts x 30 rows / 10 cm"\nmargin_included = false',
        '[[size]]\nname = "M"\ncast_on = 220',
    ]
    for role in "AB"[:yarns]:
        need = chance.randrange(150, 1400, 50)
        metres = chance.choice([205, 215, 225, 235, 245])
        text.append(
            f'[[yarn]]\nkey = "{role}"\nput_up = "{metres} m / 100 g"\nclass = "DK"\nfibre = "100% wool"\n'
            f'construction = "plied"\ngauge = "22 sts x 30 rows / 10 cm"\nneeds = ["{need} m"]'
        )
    return "\n\n".join(text)


def stash(shades, chance):
    """A table of yarns, and one of up to five shades of each."""
    yarns, stock = [COLUMNS], [["maker", "name", "shade", "amount"]]
    while len(stock) <= shades:
        cells = row(chance, len(yarns), False)
        if cells[4] != "3" and chance.random() < 0.7 or cells[2] == "unknown":
            continue
        yarns.append(cells)
        for shade in range(min(chance.randint(1, 5), shades + 1 - len(stock))):
            stock.append([*cells[:2], f"shade {shade}", f"{chance.randint(1, 14)} skeins"])
    return yarns, stock


def write_table(folder, name, rows):
    path = os.path.join(folder, name)
    with open(path, "w", newline="") as out:
        csv.writer(out).writerows(rows)
    return path


def write(folder, name, text):
    path = os.path.join(folder, name)
    with open(path, "w") as out:
        out.write(text + "\n")
    return path


def told(what, took):
    wall, processor, memory = took
    print(f"{what:<44}{wall * 1000:>10.0f} ms{processor * 1000:>10.0f} ms{memory:>8.1f} MiB")


def main():
    projects, shades, seed = [int(given) for given in sys.argv[1:]] + [20, 200, 4][len(sys.argv) - 1 :]
    chance = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        records = os.path.join(folder, "records.db")
        mine = [PROGRAM, "--db", records, "--no-backup"]
        yarns, stock = stash(shades, chance)
        patterns = [write(folder, f"{number}.toml", pattern(number, chance)) for number in range(projects)]
        change = [
            ["import", "yarns", write_table(folder, "yarns.csv", yarns)],
            ["import", "stock", write_table(folder, "stock.csv", stock)],
            ["import", "pattern", *patterns],
            *(["project", "add", f"Bench {number}:M"] for number in range(projects)),
        ]
        for what in change:
            subprocess.run([*mine, *what], check=True, stdout=subprocess.DEVNULL)
        plan = [*mine, "plan", "--json"]
        read = ["sqlite3", records, "".join(f"SELECT * FROM {name};" for name in TABLES)]
        runs = [(run(plan, folder), run(read, folder)) for _ in range(5)]
        planned, by_sqlite = (min(pair[at] for pair in runs) for at in (0, 1))
        answer = json.loads(subprocess.run(plan, check=True, capture_output=True).stdout)
        print(f"{projects} projects, {shades} shades, load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors")
        print(json.dumps(answer)[:3000] if "SHOW" in os.environ else "")
        told("plan of the kept projects", planned)
        told("sqlite3, the same records read once", by_sqlite)
        print(f"{'  ratio':<44}{planned[0] / by_sqlite[0]:>9.2f} x {planned[1] / by_sqlite[1]:>9.2f} x")


if __name__ == "__main__":
    main()
