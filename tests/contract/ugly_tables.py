#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every command that reads a table, on every kind of ugly table, in every form of the answer.

    python3 ugly_tables.py PATH/milehold-cli [-v] [--only WORD] [--all-forms]

Promises, from the contract of the command line: a table that is bad is refused with exit 2, one that cannot be
answered with exit 1, both in one sentence that begins `milehold-cli: ` with nothing on standard output; an answer
is whole, its numbers finite, chances lie in [0, 1] and inside their limits; no `error` stands beside estimates;
nothing takes ten seconds of processor time. A large table is asked for as JSON alone, unless --all-forms is given, which
takes longer. Exits 1 when a promise is broken and says where.
"""
import csv
import io
import json
import math
import os
import re
import resource
import subprocess
import sys
import tempfile

SECONDS = 10
LARGE = 300_000  # bytes of a table
FORMS = ("json", "csv", "text")


def rows(header, lines):
    return (header + "\n" + "".join(line + "\n" for line in lines)).encode()


def good_tables():
    """name -> bytes; every one of them can be read, though not every command has an answer to it."""
    plain = ["30000,came-back", "42000,holding", "61000,came-back", "15000,scrapped", "30000,holding"]
    full = "miles,end,group,stratum,vehicle,entered,factor,yearly_miles"
    def row(i, miles, end, group):
        return f"{miles},{end},{group},s{i % 2},v{i // 2},{i * 3},{'hot' if i % 3 else 'cold'},{9000 + 100 * (i % 7)}"
    tables = {
        "one comeback": rows(full, [row(0, 5, "came-back", "a")]),
        "one holding": rows(full, [row(0, 5, "holding", "a")]),
        "one comeback at 0": rows(full, [row(0, 0, "came-back", "a")]),
        "one holding at 0": rows(full, [row(0, 0, "holding", "a")]),
        "all at 0": rows(full, [row(i, 0, ("came-back", "holding")[i % 2], "ab"[i % 2]) for i in range(8)]),
        "all holding": rows(full, [row(i, 1000 + i, "holding", "ab"[i % 2]) for i in range(12)]),
        "all ended otherwise": rows(full, [row(i, 1000 + i, "scrapped", "ab"[i % 2]) for i in range(12)]),
        "all failed at one mileage": rows(full, [row(i, 7, "came-back", "ab"[i % 2]) for i in range(12)]),
        "all failed, all different": rows(full, [row(i, 7 + i, "came-back", "ab"[i % 2]) for i in range(12)]),
        "all failed but the last": rows(full, [row(i, 7, "came-back", "ab"[i % 2]) for i in range(9)] +
                                        [row(9, 9, "holding", "b")]),
        "comebacks at the largest mileage only": rows(full, [row(i, 5, "holding", "ab"[i % 2]) for i in range(5)] +
                                                      [row(i, 9, "came-back", "ab"[i % 2]) for i in range(5)]),
        "comebacks at 0": rows(full, [row(i, 0 if i % 4 == 0 else 100 * i,
                                          "came-back" if i % 2 == 0 else "holding", "ab"[i // 3 % 2])
                                      for i in range(20)]),
        "duplicates": rows(full, [row(3, 500, "came-back", "a")] * 30 + [row(3, 700, "holding", "a")] * 30),
        "a group without a comeback": rows(full, [row(i, 100 + 13 * i, "came-back" if i < 6 else "holding",
                                                      "a" if i < 6 else "b") for i in range(14)]),
        "a group that left before the first comeback": rows(full, [row(i, i + 1, "holding", "early")
                                                                   for i in range(5)] +
                                                            [row(i, 50 + i, "came-back", "late")
                                                             for i in range(5)]),
        "every row a group of its own": rows(full, [row(i, 100 + i, ("came-back", "holding")[i % 2], f"g{i}")
                                                    for i in range(40)]),
        "separating factor": rows(full, [f"{100 + i},{'came-back' if i % 2 else 'holding'},a,s,v{i},{i},"
                                         f"{i % 2},{9000}" for i in range(30)]),
        "separating word": rows(full, [f"{100 + i},{'came-back' if i % 2 else 'holding'},a,s,v{i},{i},"
                                       f"{'hot' if i % 2 else 'cold'},{9000}" for i in range(30)]),
        "constant factor": rows(full, [f"{100 + i},{'came-back' if i % 2 else 'holding'},a,s,v{i},{i},1,9000"
                                       for i in range(30)]),
        "huge factor": rows(full, [f"{100 + i},{'came-back' if i % 3 else 'holding'},a,s,v{i},{i},"
                                   f"{1e15 + i * i % 7},9000" for i in range(30)]),
        "factor of 1e300": rows(full, [f"{100 + i},{'came-back' if i % 3 else 'holding'},a,s,v{i},{i},"
                                       f"{(i * i % 7)}e300,9000" for i in range(30)]),
        "ten million miles": rows(full, [row(i, 10_000_000 - 999 * (i * i % 37),
                                             ("came-back", "holding", "came-back")[i % 3], "ab"[i % 2])
                                         for i in range(40)]),
        "tiny and huge": rows(full, [row(0, "1e-300", "came-back", "a"), row(1, "1e300", "came-back", "a"),
                                     row(2, "1e307", "holding", "a"), row(3, "1e-290", "came-back", "b"),
                                     row(4, "1e290", "holding", "b")]),
        "nearly ties": rows(full, [row(i, f"460.{i:07d}", ("came-back", "holding")[i % 2], "ab"[i // 2 % 2])
                                   for i in range(12)]),
        "other words": rows(full, [row(i, 10 + i, w, "ab"[i % 2]) for i, w in enumerate(
            ["Came-Back", "HOLDING", "came back", "comeback", "0", "1", "NA", "-", "nan", "came-back", "holding"])]),
        "only two columns": rows("miles,end", plain),
        "weights": rows(full + ",weight", [row(i, 10 + i, ("came-back", "holding")[i % 2], "ab"[i // 2 % 2]) +
                                           f",{1 + i % 3}" for i in range(20)]),
        "fractional weights": rows(full + ",weight", [row(i, 10 + i, ("came-back", "holding")[i % 2],
                                                          "ab"[i // 2 % 2]) + f",{0.25 + i % 3}"
                                                      for i in range(20)]),
        "extreme weights": rows(full + ",weight", [row(0, 5, "came-back", "a") + ",1e-300",
                                                   row(1, 6, "holding", "a") + ",1e300",
                                                   row(2, 7, "came-back", "b") + ",1e-300"]),
        "huge weights": rows(full + ",weight", [row(i, 5 + i, ("came-back", "holding")[i % 2], "ab"[i // 2 % 2]) +
                                                ",4000000000000000" for i in range(9)]),
        "late entry": rows(full + ",entry", [row(i, 100 + 20 * i, ("came-back", "holding")[i % 2],
                                                 "ab"[i // 2 % 2]) + f",{15 * i}" for i in range(20)]),
        "late entry, nobody watched together": rows(full + ",entry", [row(i, 10 * i + 10, "came-back", "ab"[i % 2]) +
                                                                      f",{10 * i}" for i in range(8)]),
        "entered at a comeback": rows(full + ",entry", [row(0, 50, "came-back", "a") + ",0",
                                                        row(1, 90, "came-back", "a") + ",50",
                                                        row(2, 99, "holding", "b") + ",90"]),
        "intervals": rows(full + ",until", [row(i, 100 + 20 * i, ("came-back", "holding")[i % 2],
                                                "ab"[i // 2 % 2]) + ("," if i % 2 else f",{150 + 20 * i}")
                                            for i in range(20)]),
        "intervals from 0": rows(full + ",until", [row(i, 0, "came-back", "ab"[i % 2]) + f",{10 + i}"
                                                   for i in range(10)]),
        "one interval": rows(full + ",until", [row(0, 3, "came-back", "a") + ",9"]),
        "intervals and late entry": rows(full + ",until,entry", [row(i, 100 + 20 * i, ("came-back", "holding")[i % 2],
                                                                     "ab"[i // 2 % 2]) +
                                                                 ("," if i % 2 else f",{150 + 20 * i}") +
                                                                 f",{i}" for i in range(20)]),
        "one vehicle": rows("miles,end,vehicle", ["10,came-back,a", "10,came-back,a", "0,came-back,a",
                                                  "30,holding,a"]),
        "numbers as groups": rows(full, [row(i, 10 + i, ("came-back", "holding")[i % 2],
                                             ("10", "9", "-1", "1e1", "0x1")[i % 5]) for i in range(20)]),
        "names of groups": rows(full, [row(i, 10 + i, ("came-back", "holding")[i % 2],
                                           ('" "', '"a,b"', '"q""q"', "ü", '"two\nlines"', "")[i % 6])
                                       for i in range(24)]),
    }
    text = rows("miles,end", plain).decode()
    tables["BOM, CRLF"] = b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode()
    tables["no last line end"] = text.rstrip("\n").encode()
    tables["blank lines"] = text.replace("\n", "\n\n").encode()
    tables["quoted line ends"] = b'miles,end,note\n5,came-back,"one\ntwo\r\nthree"\n"9","holding",""\n'
    ties = [row(i, 1000 * (i % 17), ("came-back", "holding", "holding")[i % 3], "one" if i == 4711 else "rest")
            for i in range(100_000)]
    tables["100,000 rows with heavy ties"] = rows(full, ties)
    tables["groups of 1 and 10,000"] = rows(full, [row(i, 10 + i * 7919 % 50_000, ("came-back", "holding")[i % 2],
                                                       "one" if i == 0 else "many") for i in range(10_001)])
    tables["20,000 rows, no ties"] = rows(full, [row(i, f"{i * 7919 % 20_011}.5", ("came-back", "holding")[i % 2],
                                                     "ab"[i // 2 % 2]) for i in range(20_000)])
    tables["100,000 rows, no ties"] = rows(full, [row(i, f"{i * 7919 % 100_003}.5", ("came-back", "holding")[i % 2],
                                                      "ab"[i // 2 % 2]) for i in range(100_000)])
    return tables


def bad_tables():
    """name -> (bytes, word that the sentence must hold)"""
    tables = {
        "nothing": (b"", "empty"),
        "BOM only": (b"\xef\xbb\xbf", "empty"),
        "header only": (b"miles,end,vehicle,entered\n", "no lives"),
        "semicolons": (b"miles;end;vehicle;entered\n5;holding;a;1\n", "miles"),
        "tabs": (b"miles\tend\n5\tholding\n", "miles"),
        "no miles": (b"distance,end,vehicle,entered\n5,holding,a,1\n", "miles"),
        "no end": (b"miles,state,vehicle,entered\n5,holding,a,1\n", "end"),
        "ragged": (b"miles,end,vehicle,entered\n5,holding,a,1\n6\n", "cell"),
        "not UTF-8": (b"miles,end,vehicle,entered\n5,caf\xe9,a,1\n", "UTF-8"),
        "UTF-16": ("miles,end\n5,holding\n".encode("utf-16"), "UTF-16"),
        "NUL": (b"miles,end\n5,hold\0ing\n", "NUL"),
        "an open quote": (b'miles,end\n5,"holding\n', "quot"),
        "named twice": (b"miles,end,end\n5,holding,holding\n", "twice"),
    }
    for cell in ("-5", "nan", "NaN", "inf", "-inf", "1e400", "", "five", "1,5", "0x10", " 5"):
        tables[f"miles of '{cell}'"] = (f'miles,end,vehicle,entered\n7,holding,b,1\n"{cell}",holding,a,1\n'.encode(),
                                        ":3: column miles")
    for column, cells in (("weight", ("0", "-1", "nan", "1e400", "")), ("entry", ("-1", "nan", "7", "9", "1e400")),
                          ("until", ("7", "3", "nan", "1e400", "-1"))):
        for cell in cells:
            tables[f"{column} of '{cell}'"] = (
                f"miles,end,vehicle,entered,{column}\n7,came-back,a,1,{cell}\n".encode(), f":2: column {column}")
    return tables


COMMANDS = [
    ["curve"],
    ["curve", "--at", "0,5,61000,1e6,1e308", "--given", "5"],
    ["curve", "--limits", "exact-mid-p", "--level", "0.5"],
    ["curve", "--limits", "log-log", "--at", "6", "--given", "0"],
    ["curve", "--limits", "log", "--estimator", "kaplan-meier"],
    ["curve", "--limits", "linear", "--tau", "0.0001"],
    ["curve", "--estimator", "turnbull", "--at", "5,100"],
    ["compare"],
    ["compare", "--trend", "--rho", "1"],
    ["compare", "--stratum", "--rho", "-1"],
    ["compare", "--horizon", "100"],
    ["ends", "--at", "0,5,1e6"],
    ["fit"],
    ["fit", "--model", "lognormal", "--interval", "wald", "--points"],
    ["fit", "--model", "exponential", "--life", "0.001,0.999", "--at", "0,5,1e6"],
    ["fit", "--assumed-shapes", "1,1.5,2,3", "--at", "100"],
    ["factors", "--terms", "factor"],
    ["factors", "--terms", "factor,yearly_miles", "--ties", "breslow", "--cluster"],
    ["factors", "--terms", "factor", "--stratum", "--adjust", "factor", "--at", "5,100"],
    ["repeats"],
    ["repeats", "--horizon", "10", "--level", "0.99"],
    ["repeats", "--cost", "yearly_miles"],
    ["pooled", "--at", "0,100,1e6"],
    ["funnel"],
    ["funnel", "--stratum"],
    ["early-warning", "--runs", "50"],
    ["warranty", "--months", "24", "--miles", "24000", "--yearly-miles", "12000,15000"],
    ["warranty", "--months", "24", "--miles", "24000", "--model", "lognormal"],
]

NOT_A_NUMBER = re.compile(r"(?<![A-Za-z0-9_.])[-+]?(nan|inf|infinity)(?![A-Za-z0-9_])", re.IGNORECASE)


class Report:
    def __init__(self):
        self.runs, self.faults, self.slowest = 0, [], (0, "")

    def fault(self, where, what):
        self.faults.append(f"{where}: {what}")
        print(f"BROKEN  {where}: {what}", flush=True)


def walk(value, path=""):
    yield path, value
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from walk(inner, f"{path}.{key}")
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from walk(inner, f"{path}[{index}]")


CHANCES = {"survival", "p", "mass", "incidence", "lower_survival", "permutation_p", "own", "share",
           "weight_from_others", "never_held", "false_alarm", "false_alarm_of_any"}
ESTIMATES = {"shape", "scale", "location", "sigma", "mean", "covariance", "life", "log_likelihood", "limit"}


def check_values(report, where, answer):
    for path, value in walk(answer):
        key = path.rsplit(".", 1)[-1]
        if isinstance(value, float) and not math.isfinite(value):
            report.fault(where, f"{path} is {value}")
        if key in CHANCES and isinstance(value, (int, float)) and not -1e-12 <= value <= 1 + 1e-12:
            report.fault(where, f"{path} = {value} is no chance")
        if key in ("se", "chi_square", "watched", "lives", "comebacks") and isinstance(value, (int, float)):
            if value < 0:
                report.fault(where, f"{path} = {value} is negative")
        if not isinstance(value, dict):
            continue
        if "error" in value and ESTIMATES & value.keys():
            report.fault(where, f"{path} holds an error beside {sorted(ESTIMATES & value.keys())}")
        low, high = value.get("lower"), value.get("upper")
        if low is not None and high is not None and low > high * (1 + 1e-12):
            report.fault(where, f"{path}: lower {low} above upper {high}")
        for name in ("survival", "mean", "hazard_ratio"):
            middle = value.get(name)
            if middle is None or low is None or high is None:
                continue
            if not low - 1e-9 * abs(low) <= middle <= high + 1e-9 * abs(high):
                report.fault(where, f"{path}: {name} {middle} outside {low} to {high}")


def check_curve(report, where, answer):
    for group in answer["groups"]:
        survival, lower, upper = 1, 1, 1
        for step in group.get("steps", []):
            if step["survival"] > survival:
                report.fault(where, f"the curve rises at {step['miles']}")
            survival = step["survival"]
            if not answer["limits"].startswith("exact"):
                continue
            if step["lower"] > lower or step["upper"] > upper:
                report.fault(where, f"an exact limit rises at {step['miles']}")
            lower, upper = step["lower"], step["upper"]
        if "intervals" in group:
            mass = sum(interval["mass"] for interval in group["intervals"])
            if abs(mass - 1) > 1e-5:
                report.fault(where, f"the masses add up to {mass}")
        for point in group["at"]:
            if point["miles"] > group["longest_watched"] and any(
                    value is not None for key, value in point.items() if key not in ("miles", "watched")):
                report.fault(where, f"something is said at {point['miles']}, past the last watched")


def ask(cli, arguments, table):
    """The run and its processor time, which does not depend on what else the machine does."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run([cli, *arguments], input=table, capture_output=True, timeout=12 * SECONDS)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return done, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def check_refusal(report, where, done, codes):
    text = done.stderr.decode("utf-8", "replace")
    sentences = [line for line in text.splitlines() if not line.startswith("milehold-cli: note: ")]
    if done.returncode not in codes:
        report.fault(where, f"exit {done.returncode}, expected {' or '.join(map(str, codes))}: {text[:200]}")
    if done.stdout:
        report.fault(where, f"refused, yet on standard output: {done.stdout[:80]}")
    if len(sentences) != 1 or not sentences[0].startswith("milehold-cli: "):
        report.fault(where, f"not one sentence: {text[:300]}")
    if NOT_A_NUMBER.search(text) and not re.search(r"'[^']*'", text):
        report.fault(where, f"the sentence speaks of no number: {text[:200]}")
    return text


def run_one(report, cli, name, table, command, forms):
    where = f"{' '.join(command)} on {name}"
    answers = {}
    for form in forms:
        report.runs += 1
        done, seconds = ask(cli, [*command, "--csv", "-", "--format", form], table)
        if seconds > report.slowest[0]:
            report.slowest = (seconds, f"{where} as {form}")
        if seconds > SECONDS:
            report.fault(where, f"{form} took {seconds:.1f} s")
        answers[form] = done
    codes = {form: done.returncode for form, done in answers.items()}
    if len(set(codes.values())) != 1:
        report.fault(where, f"exit codes differ by form: {codes}")
        return
    done = answers["json"]
    if done.returncode != 0:
        check_refusal(report, where, done, (1, 2))
        return
    try:
        answer = json.loads(done.stdout, parse_constant=lambda word: float(word))
    except ValueError as problem:
        report.fault(where, f"no JSON: {problem}")
        return
    check_values(report, where, answer)
    if command[0] == "curve":
        check_curve(report, where, answer)
    names = name == "other words"  # an end there is called nan
    for form in forms[1:]:
        text = answers[form].stdout.decode()
        found = NOT_A_NUMBER.search(text)
        if found and not names:
            report.fault(where, f"'{found.group()}' in {form}")
        if not text.strip():
            report.fault(where, f"{form} is empty")
    if "csv" not in forms:
        return
    widths = {len(row) for row in csv.reader(io.StringIO(answers["csv"].stdout.decode()))}
    if len(widths) != 1:
        report.fault(where, f"rows of the CSV have {sorted(widths)} cells")


def run_bad(report, cli, name, table, word, command):
    where = f"{' '.join(command)} on {name}"
    report.runs += 1
    done, _ = ask(cli, [*command, "--csv", "-", "--format", "json"], table)
    text = check_refusal(report, where, done, (2,))
    # What the command needs besides may be missed first.
    if word not in text and not re.search(r"column '?(vehicle|entered|stratum|factor|yearly_miles)", text):
        report.fault(where, f"'{word}' is not in: {text[:200]}")


def run_files(report, cli, command):
    with tempfile.TemporaryDirectory() as folder:
        for what, path, word in (("a folder", folder, "directory"), ("a missing file", folder + "/none.csv", "No such")):
            where = f"{' '.join(command)} on {what}"
            report.runs += 1
            done, _ = ask(cli, [*command, "--csv", path], b"")
            text = check_refusal(report, where, done, (2,))
            if word not in text or path not in text:
                report.fault(where, f"'{word}' or the name is not in: {text[:200]}")
        path = os.path.join(folder, "lives.csv")
        table = good_tables()["comebacks at 0"]
        with open(path, "wb") as file:
            file.write(table)
        by_name, _ = ask(cli, [*command, "--csv", path, "--format", "json"], b"")
        by_stream, _ = ask(cli, [*command, "--csv", "-", "--format", "json"], table)
        if by_name.stdout != by_stream.stdout:
            report.fault(" ".join(command), "a file and standard input differ")


def main():
    arguments = [word for word in sys.argv[1:] if word not in ("-v", "--all-forms")]
    only = ""
    if "--only" in arguments:
        at = arguments.index("--only")
        only = arguments[at + 1]
        del arguments[at:at + 2]
    cli, verbose = arguments[0], "-v" in sys.argv
    report = Report()
    commands = [command for command in COMMANDS if only in " ".join(command)]
    good, bad = good_tables(), bad_tables()
    asked = set()
    for command in commands:
        for name, table in good.items():
            if command[0] == "warranty" and name == "100,000 rows, no ties":
                continue  # its limits fit each group anew 300 times, which is a minute of work here and no fault
            try:
                forms = FORMS if len(table) < LARGE or "--all-forms" in sys.argv else FORMS[:1]
                run_one(report, cli, name, table, command, forms)
            except subprocess.TimeoutExpired:
                report.fault(f"{' '.join(command)} on {name}", f"still running after {12 * SECONDS} s")
        if command[0] not in asked:  # reading is the same whatever else is asked
            for name, (table, word) in bad.items():
                run_bad(report, cli, name, table, word, command)
            run_files(report, cli, command)
        asked.add(command[0])
        if verbose:
            print(" ".join(command), report.runs, flush=True)
    print(f"{report.runs} runs, {len(report.faults)} broken; slowest {report.slowest[0]:.1f} s: {report.slowest[1]}")
    return 1 if report.faults or not report.runs else 0


if __name__ == "__main__":
    sys.exit(main())
