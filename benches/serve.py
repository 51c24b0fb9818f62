#!/usr/bin/env python3
"""Loads `understudy serve` on loopback and compares it with a static file.

    cargo build --profile quick && UNDERSTUDY=target/quick/understudy benches/serve.py [YARNS] [SECONDS] [READERS] [soak]

Makes records with YARNS invented yarns (100,000). For SECONDS (20) each it asks
at 50 requests a second, then as fast as 4 and 32 connections can; the same for
suggestions of names, well typed and misspelt, and for the program's own style
sheet, served from memory.
Then READERS (32) readers and 4 writers go at once for three times SECONDS: every
write that was taken must be in the records, and nothing but a stated `Busy` may be
refused; with `soak` there is nothing else. Prints p50 and p99, rates, the memory in
use ten times along the way, its peak and the load of the machine. A late answer
counts from when it was due. Everything stops by itself.
"""
import http.client, os, random, re, subprocess, sys, tempfile, threading, time
from urllib.parse import urlencode

YARNS = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
SECONDS = int(sys.argv[2]) if len(sys.argv) > 2 else 20
READERS = int(sys.argv[3]) if len(sys.argv) > 3 else 32
SOAK_ONLY = sys.argv[4:] == ["soak"]
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


def misspelt_path():
    part = name(random.randrange(YARNS))[1]
    return "/suggest?" + urlencode({"text": part[:3] + part[4] + part[3] + part[5:9]})


def paced(port, path, rate=50):
    connection = http.client.HTTPConnection("127.0.0.1", port)
    took, begun, size = [], time.perf_counter(), 0
    for n in range(rate * SECONDS):
        due = begun + n / rate
        time.sleep(max(0, due - time.perf_counter()))
        _, status, size = get(connection, path())
        assert status == 200, status
        took.append((time.perf_counter() - due) * 1000)
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


def post(connection, path, fields):
    headers = {"Content-Type": "application/x-www-form-urlencoded", "Sec-Fetch-Site": "same-origin"}
    start = time.perf_counter()
    connection.request("POST", path, urlencode(fields), headers)
    answer = connection.getresponse()
    return time.perf_counter() - start, answer.status, answer.read()


def soak(port, pid, readers=READERS, writers=4):
    until = time.perf_counter() + 3 * SECONDS
    reads, writes, busy, taken, wrong = [], [], [], [], []
    lists = lambda: f"/yarns?from={40 * random.randrange(YARNS // 40 or 1)}"
    pages = [answer_path, answer_path, suggest_path, lambda: "/stock", lists]

    def read(nth):
        connection = http.client.HTTPConnection("127.0.0.1", port)
        while time.perf_counter() < until:
            path = random.choice(pages)()
            seconds, status, _ = get(connection, path)
            reads.append(seconds * 1000)
            if status != 200:
                (busy if status == 503 else wrong).append((path, status))

    def write(nth):
        connection = http.client.HTTPConnection("127.0.0.1", port)
        count = 0
        while time.perf_counter() < until:
            count += 1
            mark = f"soak-{nth}-{count}-end"
            if count % 2:
                path, fields = "/yarns/new", {"maker": "Soak", "name": mark, "length": "125 m", "mass": "50 g"}
            else:
                maker, title = name(random.randrange(YARNS))
                path, fields = "/stock/buy", {"yarn": f"{maker}, {title}", "amount": "3 skeins", "lot": mark}
            seconds, status, body = post(connection, path, fields)
            writes.append(seconds * 1000)
            if status == 303:
                taken.append(mark)
            elif status == 503 and b"Busy" in body:
                busy.append((path, status))
            else:
                wrong.append((path, status))

    threads = [threading.Thread(target=read, args=(n,)) for n in range(readers)]
    threads += [threading.Thread(target=write, args=(n,)) for n in range(writers)]
    [thread.start() for thread in threads]
    along = []
    for _ in range(10):
        time.sleep(3 * SECONDS / 10)
        along.append(memory(pid, "VmRSS"))
    [thread.join() for thread in threads]
    print("memory along the way, MiB:", *(f"{mib:.0f}" for mib in along))
    connection = http.client.HTTPConnection("127.0.0.1", port)
    kept = ""
    for path in ("/yarns.csv", "/stock.csv"):
        connection.request("GET", path)
        kept += connection.getresponse().read().decode()
    found = set(re.findall(r"soak-\d+-\d+-end", kept))
    lost = [mark for mark in taken if mark not in found]
    told = lambda took: f"p50 {took[len(took) // 2]:.1f} ms, p99 {took[int(len(took) * 0.99)]:.1f} ms"
    print(f"{readers} readers and {writers} writers for {3 * SECONDS} s: {len(reads) / SECONDS / 3:.0f} pages/s ({told(sorted(reads))}), "
          f"{len(writes) / SECONDS / 3:.0f} changes/s ({told(sorted(writes))}); {len(taken)} changes taken, {len(lost)} lost, "
          f"{len(busy)} stated busy, {len(wrong)} other refusals {wrong[:3]}")


def memory(pid, what="VmHWM"):
    return int(re.search(what + r":\s+(\d+)", open(f"/proc/{pid}/status").read()).group(1)) / 1024


def paces(port, pid):
    still = paced(port, lambda: "/style.css")
    still_rate = hurried(port, lambda: "/style.css")
    for what, path in (("answer", answer_path), ("suggestion", suggest_path), ("misspelt suggestion", misspelt_path)):
        p50, p99, size = paced(port, path)
        rate, all_rate = hurried(port, path), hurried(port, path, 32)
        print(f"{what}: p50 {p50:.1f} ms, p99 {p99:.1f} ms at 50/s ({size} bytes); {rate:.0f}/s by 4, {all_rate:.0f}/s by 32; "
              f"against a static file of {still[2]} bytes: p99 x{p99 / still[1]:.1f}, rate /{still_rate / rate:.1f}")
    print(f"peak memory {memory(pid):.0f} MiB with {YARNS} yarns")


with tempfile.TemporaryDirectory() as folder:
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f} before")
    db = records(folder)
    server = subprocess.Popen([PROGRAM, "--db", db, "serve", "--port", "0"], stdout=subprocess.PIPE, text=True)
    try:
        port = int(re.search(r":(\d+) ", server.stdout.readline()).group(1))
        if not SOAK_ONLY:
            paces(port, server.pid)
        soak(port, server.pid)
        print(f"peak memory {memory(server.pid):.0f} MiB after all of it, load {os.getloadavg()[0]:.1f} after")
    finally:
        server.terminate()
        server.wait(20)
