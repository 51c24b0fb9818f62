#!/usr/bin/env python3
"""Loads `understudy serve` on loopback and compares it with a static file.

    cargo build --release && benches/serve.py [YARNS] [SECONDS]

Makes records with YARNS invented yarns (100,000), asks at 50 requests a second
for SECONDS (20), then as fast as it can with 4 connections; prints p50 and p99
of answers and of name suggestions, the rate, the memory, and the same for the
program's own style sheet, which is served from memory. Everything stops by
itself.
"""
import http.client, os, random, re, subprocess, sys, tempfile, threading, time
from urllib.parse import urlencode

YARNS = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
SECONDS = int(sys.argv[2]) if len(sys.argv) > 2 else 20
ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
PROGRAM = os.environ.get("UNDERSTUDY", os.path.join(ROOT, "target/release/understudy"))
PATTERN = os.path.join(ROOT, "sample-stash/patterns/skerrablet.toml")


def name(n):
    dice = random.Random(n)
    part = lambda: "".join(dice.choice("bdfgklmnprstvz") + dice.choice("aeiou") for _ in range(3))
    return f"Maker {part()}", f"{part().title()} {part().title()} {n}"


def records(folder):
    table = os.path.join(folder, "yarns.csv")
    with open(table, "w") as out:
        out.write("maker,name,length,mass,fibre,class\n")
        for n in range(YARNS):
            maker, title = name(n)
            out.write(f"{maker},{title},{80 + n % 320} m,{50 + 50 * (n % 2)} g,100% wool,{1 + n % 6}\n")
    db = os.path.join(folder, "r.db")
    for what, file in (("yarns", table), ("pattern", PATTERN)):
        subprocess.run([PROGRAM, "--db", db, "import", what, file], check=True, stdout=subprocess.DEVNULL)
    return db


def get(connection, path):
    start = time.perf_counter()
    connection.request("GET", path)
    answer = connection.getresponse()
    body = answer.read()
    return time.perf_counter() - start, answer.status, len(body)


def answer_path():
    maker, title = name(random.randrange(YARNS))
    return "/answer?" + urlencode({"pattern": "1", "yarn": f"{maker}, {title}"})


def suggest_path():
    return "/suggest?" + urlencode({"text": name(random.randrange(YARNS))[1][:6]})


def paced(port, path, rate=50):
    connection = http.client.HTTPConnection("127.0.0.1", port)
    took, begun, size = [], time.perf_counter(), 0
    for n in range(rate * SECONDS):
        time.sleep(max(0, begun + n / rate - time.perf_counter()))
        seconds, status, size = get(connection, path())
        assert status == 200, status
        took.append(seconds * 1000)
    took.sort()
    return took[len(took) // 2], took[int(len(took) * 0.99)], size


def hurried(port, path, connections=4):
    counts = [0] * connections
    until = time.perf_counter() + SECONDS

    def work(nth):
        connection = http.client.HTTPConnection("127.0.0.1", port)
        while time.perf_counter() < until:
            assert get(connection, path())[1] == 200
            counts[nth] += 1

    threads = [threading.Thread(target=work, args=(n,)) for n in range(connections)]
    [thread.start() for thread in threads]
    [thread.join() for thread in threads]
    return sum(counts) / SECONDS


def memory(pid):
    return int(re.search(r"VmHWM:\s+(\d+)", open(f"/proc/{pid}/status").read()).group(1)) / 1024


with tempfile.TemporaryDirectory() as folder:
    db = records(folder)
    server = subprocess.Popen([PROGRAM, "--db", db, "serve", "--port", "0"], stdout=subprocess.PIPE, text=True)
    try:
        port = int(re.search(r":(\d+) ", server.stdout.readline()).group(1))
        still = paced(port, lambda: "/style.css")
        still_rate = hurried(port, lambda: "/style.css")
        for what, path in (("answer", answer_path), ("suggestion", suggest_path)):
            p50, p99, size = paced(port, path)
            rate = hurried(port, path)
            print(f"{what}: p50 {p50:.1f} ms, p99 {p99:.1f} ms at 50/s ({size} bytes); {rate:.0f}/s; "
                  f"against a static file of {still[2]} bytes: p99 x{p99 / still[1]:.1f}, rate /{still_rate / rate:.1f}")
        print(f"peak memory {memory(server.pid):.0f} MiB with {YARNS} yarns")
    finally:
        server.terminate()
        server.wait(20)
