#!/usr/bin/env python3
"""Runs fleet_counts.sql over exported rows in DuckDB and compares every count with the program's own.

usage: fleet_counts.py FOLDER      with rows.jsonl, links.csv and shares.csv as `fleet_rows` writes them

Whole numbers must be equal; sums over fading weights and expected counts within 1e-9 of each other, of the larger of 1 and
the sum. Exit 1 if anything differs.
"""
import csv
import datetime
import pathlib
import re
import sys
import time

import duckdb

LIMIT = 1e-9
HALF_LIFE_DAYS = 365.0
NOW = int(datetime.datetime(2026, 12, 1, tzinfo=datetime.timezone.utc).timestamp())
COLUMNS = {
    "schema": "INTEGER", "row": "VARCHAR", "job": "VARCHAR", "root": "VARCHAR", "family": "VARCHAR",
    "closed": "BIGINT", "cause": "VARCHAR", "finding": "VARCHAR", "parent": "VARCHAR", "yes": "BOOLEAN",
    "present": "DOUBLE", "rival": "DOUBLE", "others": "DOUBLE", "noticed": "DOUBLE", "strength": "DOUBLE",
}


def queries():
    text = pathlib.Path(__file__).with_name("fleet_counts.sql").read_text(encoding="utf-8")
    parts = re.split(r"^-- name: (\w+)\n", text, flags=re.M)[1:]
    values = {":now": f"{NOW}", ":half_life_days": f"CAST({HALF_LIFE_DAYS!r} AS DOUBLE PRECISION)"}
    for name, body in zip(parts[::2], parts[1::2]):
        for word, value in values.items():
            body = body.replace(word, value)
        # A plain decimal is an exact number in SQL: the weights are meant in double precision.
        yield name, re.sub(r"(?<![\w.'])(\d+\.\d+)(?![\w.'])", r"CAST(\1 AS DOUBLE PRECISION)", body)


def compare(name, found, path):
    with open(path, encoding="utf-8", newline="") as file:
        ours = list(csv.reader(file))
    head, ours = ours[0], ours[1:]
    if len(found) != len(ours):
        return f"{name}: {len(found)} rows by SQL, {len(ours)} by the program", 0.0
    worst = 0.0
    for theirs, row in zip(found, sorted(ours, key=lambda row: (row[0], row[1]))):
        for column, a, b in zip(head, theirs, row):
            if isinstance(a, float):
                difference = abs(a - float(b)) / max(1.0, abs(a))
                worst = max(worst, difference)
                if difference > LIMIT:
                    return f"{name}: {theirs[:2]}: {column} {a!r} by SQL, {b} by the program", worst
            elif str(a) != b:
                return f"{name}: {theirs[:2]}: {column} {a!r} by SQL, {b} by the program", worst
    return None, worst


def main():
    folder = pathlib.Path(sys.argv[1])
    base = duckdb.connect()
    start = time.perf_counter()
    columns = ", ".join(f"'{name}': '{kind}'" for name, kind in COLUMNS.items())
    base.execute(
        f"CREATE TABLE job_rows AS SELECT * FROM read_json('{folder}/rows.jsonl', format='newline_delimited', "
        f"columns={{{columns}}})"
    )
    read = base.execute("SELECT COUNT(*), COUNT(DISTINCT job), MIN(schema), MAX(schema) FROM job_rows").fetchone()
    print(f"duckdb {duckdb.__version__}: {read[0]} rows of {read[1]} jobs, schema {read[2]} to {read[3]}, "
          f"read in {time.perf_counter() - start:.1f} s")
    failed = False
    for name, query in queries():
        start = time.perf_counter()
        found = base.execute(query).fetchall()
        wrong, worst = compare(name, found, folder / f"{name}.csv")
        print(f"{name}: {len(found)} rows in {time.perf_counter() - start:.1f} s, largest difference {worst:.1e}"
              + (f"; WRONG: {wrong}" if wrong else ""))
        failed |= wrong is not None
    sys.exit(1 if failed else 0)


main()
