"""Week totals by athlete and kind in polars or DuckDB: aggregate.py PEER ROWS RUNS.

The rows are loaded before anything is timed. Prints one figure a line: `full` adds up
all rows, `week` takes one row in and adds up those of its athlete and week; medians
over the runs, in seconds; the same with `-processor`. The other lines say what was found.
"""

import statistics
import sys
import time

SUMS = [
    "contacts",
    "two_leg",
    "timed",
    "estimated",
    "system",
    "left_contacts",
    "left_energy",
    "right_contacts",
    "right_energy",
]


def polars(path):
    import polars as pl

    rows = pl.read_csv(path).rechunk()
    sums = [pl.col(name).sum() for name in SUMS] + [pl.col("hardest").max()]

    def total(rows):
        return rows.lazy().group_by("athlete", "week", "kind").agg(sums).collect()

    def full():
        return total(rows)

    def week():
        more = rows.head(1)
        athlete, monday = more["athlete"][0], more["week"][0]
        all_rows = rows.vstack(more)
        wanted = (pl.col("athlete") == athlete) & (pl.col("week") == monday)
        return all_rows.lazy().filter(wanted).group_by("kind").agg(sums).collect()

    def checks(table):
        energy = table["left_energy"].sum() + table["right_energy"].sum()
        return table.height, table["contacts"].sum(), energy, table["hardest"].sum()

    return full, week, checks


def duckdb(path):
    import duckdb as db

    con = db.connect()
    con.execute("CREATE TABLE rows AS SELECT * FROM read_csv(?)", [path])
    sums = ", ".join(f"sum({name})::BIGINT AS {name}" for name in SUMS) + ", max(hardest) AS hardest"
    athlete, monday = con.execute("SELECT athlete, week FROM rows LIMIT 1").fetchone()
    con.execute("CREATE TABLE one AS SELECT * FROM rows LIMIT 1")

    def full():
        con.execute(
            f"CREATE OR REPLACE TEMP TABLE totals AS SELECT athlete, week, kind, {sums} FROM rows GROUP BY ALL"
        )

    def week():
        con.execute("INSERT INTO rows SELECT * FROM one")
        return con.execute(
            f"SELECT kind, {sums} FROM rows WHERE athlete = ? AND week = ? GROUP BY kind", [athlete, monday]
        ).fetchall()

    def checks(_):
        return con.execute(
            "SELECT count(*), sum(contacts), sum(left_energy) + sum(right_energy), sum(hardest) FROM totals"
        ).fetchone()

    return full, week, checks


def timed(name, work, runs):
    """Prints the medians of the clock and of the processor time of all threads."""
    clock, processor = [], []
    for _ in range(runs):
        begun = time.perf_counter(), time.process_time()
        done = work()
        clock.append(time.perf_counter() - begun[0])
        processor.append(time.process_time() - begun[1])
    print(name, statistics.median(clock))
    print(f"{name}-processor", statistics.median(processor))
    return done


def main():
    peer, path, runs = sys.argv[1], sys.argv[2], int(sys.argv[3])
    full, week, checks = {"polars": polars, "duckdb": duckdb}[peer](path)
    full()
    table = timed("full", full, runs)
    for name, found in zip(["groups", "contacts", "energy", "hardest"], checks(table)):
        print(name, int(found))
    week()
    timed("week", week, runs)


main()
