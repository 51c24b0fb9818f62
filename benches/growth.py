#!/usr/bin/env python3
"""Imports and asks at growing numbers of yarns and prints how each step grows.

    growth.py [ROWS...]        (10000 100000 1000000 4000000)

PROGRAM=path uses a program that is built already, WORK=folder keeps the tables. The
largest takes some 6 GB of disk. A figure is a whole process: wall time, processor
time of all its threads, most memory. `share` is processor time for each yarn beside
that of the step before: 1 grows with the yarns, more is over its share.
"""
import os
import subprocess
import sys
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
PROGRAM = os.environ.get("PROGRAM", os.path.join(HERE, "../target/release/understudy"))
TIME = "/usr/bin/time"
ASKS = {
    "find, all criteria": ["find", "--pattern", "Bench Cardigan", "--top", "20"],
    "find by gauge alone": ["find", "--wants", "22 sts / 10 cm", "--top", "20"],
    "yarn show, a name with mistakes": ["yarn", "show", "Dumrdor Bababbaba Fnie"],
    "yarn list, one page": ["yarn", "list", "dor"],
}


def run(command, folder):
    """Wall seconds, processor seconds, most memory in MiB; memory by `time`, which is
    small, since a child counts that of the one who starts it as its own."""
    told = os.path.join(folder, "memory")
    if os.path.exists(TIME):
        command = [TIME, "-q", "-o", told, "-f", "%M", *command]
    began = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, used = os.wait4(child.pid, 0)
    # A name that is only alike ends with 1, and says which are.
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        sys.exit(f"failed: {' '.join(command)}")
    memory = used.ru_maxrss
    if os.path.exists(TIME):
        with open(told) as text:
            memory = float(text.read())
    return time.perf_counter() - began, used.ru_utime + used.ru_stime, memory / 1024


def table(rows, folder):
    path = os.path.join(folder, f"yarns-{rows}-4.csv")
    if not os.path.exists(path):
        with open(path, "w") as out:
            subprocess.run([sys.executable, os.path.join(HERE, "catalogue.py"), str(rows)], stdout=out, check=True)
    return path


def measured(rows, folder):
    """What each thing took at that many yarns; of what is short, the least of five runs."""
    yarns = table(rows, folder)
    with tempfile.TemporaryDirectory(dir=folder) as desk:
        mine = [PROGRAM, "--db", os.path.join(desk, "records.db"), "--no-backup"]
        took = {"import yarns": run([*mine, "import", "yarns", yarns], desk)}
        size = os.path.getsize(os.path.join(desk, "records.db")) / 1e6
        run([*mine, "import", "pattern", os.path.join(HERE, "pattern.toml")], desk)
        for name, ask in ASKS.items():
            took[name] = min((run([*mine, *ask], desk) for _ in range(5)), key=lambda each: each[1])
    print(f"{rows} yarns, {size:.0f} MB", flush=True)
    return took


def main():
    steps = [int(rows) for rows in sys.argv[1:]] or [10_000, 100_000, 1_000_000, 4_000_000]
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors")
    folder = os.environ.get("WORK") or tempfile.mkdtemp()
    os.makedirs(folder, exist_ok=True)
    before = None
    for rows in steps:
        took = measured(rows, folder)
        for name, (wall, processor, memory) in took.items():
            share = f"share {processor / before[1][name][1] / (rows / before[0]):.2f}" if before else ""
            print(f"  {name:<34}{wall * 1000:>10.0f} ms{processor * 1000:>10.0f} ms{memory:>8.1f} MiB  {share}", flush=True)
        before = (rows, took)


if __name__ == "__main__":
    main()
