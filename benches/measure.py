#!/usr/bin/env python3
"""Runs the program and sqlite3 side by side and prints what they took.

Called by million.sh: measure.py PROGRAM TABLE SMALL_TABLE RANDOM_TABLE FOLDER PATTERN
Each figure is a whole process: wall time, processor time of all its threads,
most memory. Of short ones the least of several runs counts, the two programs
taking turns, so that both meet the same machine.
"""
import contextlib
import json
import os
import sqlite3
import subprocess
import sys
import time

program, table, small, random_gauges, folder, pattern = sys.argv[1:7]


TIME = "/usr/bin/time"


def run(command):
    """Wall seconds, processor seconds, most memory in MiB.

    A child counts the memory of the one that starts it as its own, so memory
    is asked of `time`, which is small; without it the figure is that of this
    script or more.
    """
    told = os.path.join(folder, "memory")
    if os.path.exists(TIME):
        command = [TIME, "-q", "-o", told, "-f", "%M", *command]
    began = time.perf_counter()
    with open(os.devnull, "w") as nothing:
        child = subprocess.Popen(command, stdout=nothing, stderr=nothing)
        _, _, used = os.wait4(child.pid, 0)
    took = time.perf_counter() - began
    memory = used.ru_maxrss
    if os.path.exists(TIME):
        with open(told) as text:
            memory = float(text.read())
    return took, used.ru_utime + used.ru_stime, memory / 1024


def least(runs):
    return tuple(min(run[at] for run in runs) for at in (0, 1)) + (max(run[2] for run in runs),)


def both(mine, other, times):
    """The least of several runs of both, in turns."""
    runs = [(run(mine), run(other)) for _ in range(times)]
    return least([pair[0] for pair in runs]), least([pair[1] for pair in runs])


def told(what, took):
    wall, processor, memory = took
    print(f"{what:<52}{wall * 1000:>10.1f} ms{processor * 1000:>10.1f} ms{memory:>8.1f} MiB")


def compared(what, mine, other):
    print(f"{what:<52}{mine[0] / other[0]:>9.2f} x {mine[1] / other[1]:>9.2f} x")


def fresh(name):
    path = os.path.join(folder, name)
    kept = (f for f in os.listdir(folder) if f == name or f.startswith((name + "-", name + ".")))
    for file in list(kept):
        os.remove(os.path.join(folder, file))
    return path


def read_in_full(answer):
    """How many yarns an answer judged, wherever it says so."""
    if isinstance(answer, dict):
        return answer.get("judged", 0) or sum(map(read_in_full, answer.values()))
    return sum(map(read_in_full, answer)) if isinstance(answer, list) else 0


def copying(records):
    """SQL that writes the rows of imported records again, with all checks and
    indexes: what SQLite alone takes, with nothing read, looked up or logged twice."""
    tables = ("blend", "facts", "yarn")
    with contextlib.closing(sqlite3.connect(records)) as kept:
        made = kept.execute(
            "SELECT type, sql FROM sqlite_schema WHERE tbl_name IN (?, ?, ?) AND sql IS NOT NULL"
            " AND type <> 'trigger'", tables).fetchall()  # fmt: skip
    create = [sql for kind, sql in made if kind == "table"]
    index = [sql for kind, sql in made if kind == "index"]
    # Without a condition SQLite copies rows as they are and checks nothing.
    insert = [f"INSERT INTO {name} SELECT * FROM kept.{name} WHERE id > 0" for name in tables]
    attach = [f"ATTACH '{records}' AS kept", "PRAGMA main.journal_mode = WAL"]
    return ";\n".join([*attach, *create, "BEGIN", *insert, *index, "COMMIT"]) + ";"


rows = sum(1 for _ in open(table)) - 1
print(f"{rows} yarns, load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors")
print(f"{'':<52}{'wall':>13}{'processor':>13}{'memory':>12}")

records, plain = fresh("records.db"), fresh("plain.db")
imported = run([program, "--db", records, "--no-backup", "import", "yarns", table])
by_sqlite = run(["sqlite3", plain, "-cmd", ".mode csv", f".import {table} yarns"])
told("import yarns", imported)
told("sqlite3 .import of the same file, no check", by_sqlite)
compared("  ratio", imported, by_sqlite)
backed_up = run([program, "--db", fresh("backed-up.db"), "import", "yarns", table])
told("import yarns, with the backups of day and month", backed_up)
compared("  ratio to .import", backed_up, by_sqlite)
compared("  ratio to the import without", backed_up, imported)
by_copy = run(["sqlite3", fresh("copy.db"), copying(records)])
told("sqlite3, the imported rows again, all checks", by_copy)
compared("  ratio", imported, by_copy)

subprocess.run([program, "--db", records, "import", "pattern", pattern], check=True, stdout=subprocess.DEVNULL)
find = [program, "--db", records, "find", "--pattern", "Bench Cardigan", "--top", "20"]
scan = "SELECT id FROM facts WHERE grist IS NOT NULL ORDER BY abs(grist - 2.25) LIMIT 20"
rough = "SELECT maker, name FROM yarns ORDER BY abs(100.0 * length / mass - 225) LIMIT 20"
found, scanned = both(find, ["sqlite3", records, scan], 7)
_, texts = both(find, ["sqlite3", plain, rough], 3)
told("find, all criteria, 20 best", found)
told("sqlite3, 20 nearest of the index on grist", scanned)
told("sqlite3, 20 nearest of the plain table", texts)
compared("  ratio to the index", found, scanned)
compared("  ratio to the plain table", found, texts)

# In no yarn is there hemp, so that very many are as good; and where no length per
# mass is wanted, gauge tells the near from the far; without a fibre, many are as good.
tie = "225 m/100 g, DK, 22 sts / 10 cm, 100% hemp, plied, machine wash"
gauge = "22 sts / 10 cm, 100% wool"
bare = "22 sts / 10 cm"
at_random = fresh("random.db")
subprocess.run([program, "--db", at_random, "--no-backup", "import", "yarns", random_gauges], check=True, stdout=subprocess.DEVNULL)
for kept, where in ((records, ""), (at_random, ", gauges at random")):
    for what, text in (("where many tie", tie), ("by gauge and fibre", gauge), ("by gauge alone", bare)):
        find = [program, "--db", kept, "find", "--wants", text, "--top", "20"]
        answer = json.loads(subprocess.run([*find, "--json"], check=True, capture_output=True).stdout)
        found, scanned = both(find, ["sqlite3", kept, scan], 5)
        told(f"find {what}{where}", found)
        told("sqlite3, 20 nearest of the index on grist", scanned)
        compared(f"  ratio; {read_in_full(answer)} yarns read in full", found, scanned)

names = fresh("names.db")
imported = run([program, "--db", names, "--no-backup", "import", "yarns", small])
every = "SELECT sum(length(maker_key) + length(name_key)) FROM yarn INDEXED BY yarn_by_name"
for text in ("Dumardor, Bababababa Fine", "Dumrdor Bababbaba Fnie"):
    shown, read = both([program, "--db", names, "yarn", "show", text], ["sqlite3", names, every], 7)
    told(f"yarn show {text!r}", shown)
told("sqlite3, all names of the index read once", read)
compared("  ratio", shown, read)
told("--help", least([run([program, "--help"]) for _ in range(11)]))
