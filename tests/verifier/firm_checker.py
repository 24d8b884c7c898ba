"""Checks a firm's build from its files alone: ``result.json``, those of the jobs, and the firm file as plain YAML.

Imports nothing of the program. Times are read from the texts; a site is ``JOB.PLACE`` or ``base``.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import yaml

Data = dict[str, Any]
WORKS = ("work", "travel", "hold-point")


def read(folder: Path, firm_file: Path) -> tuple[Data, dict[str, Data], Data]:
    """Read what was built, and the firm file; ids of the jobs without a day are left out."""
    built: Data = json.loads((folder / "result.json").read_text("utf-8"))
    paths = {job["id"]: folder / job["path"] for job in built["jobs"] if "path" in job}
    jobs = {job: json.loads(path.read_text("utf-8")) for job, path in paths.items()}
    firm: Data = yaml.safe_load(firm_file.read_text("utf-8"))
    return built, jobs, firm


def faults(built: Data, jobs: Mapping[str, Data], firm: Data) -> list[str]:
    """Give every fault as one line, beginning with its kind."""
    return [
        *_twice(built, jobs),
        *_days(built, firm),
        *_stops(built, jobs),
        *_vehicles(built, jobs),
        *_drives(built, jobs, firm),
        *_gear(built, jobs),
        *_containers(built, jobs, firm),
        *_promises(built),
    ]


def _moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


def _pieces(jobs: Mapping[str, Data], who: str) -> list[tuple[datetime, datetime, str, Data]]:
    rows = [
        (_moment(piece["start"]), _moment(piece["finish"]), job, task)
        for job, data in jobs.items()
        for task in data["tasks"]
        for n, piece in enumerate(task["segments"])
        if who in _crew(task, n)
    ]
    return sorted(rows, key=lambda row: row[:3])


def _crew(task: Data, n: int) -> list[str]:
    segments = task.get("segment_people") or task["segments"][n].get("people") or ()
    own = segments[n] if segments and isinstance(segments[0], list) else segments or task["people"]
    return [*own, *task["vehicles"]]


def _twice(built: Data, jobs: Mapping[str, Data]) -> Iterator[str]:
    for one in (*built["people"], *built["vehicles"]):
        rows = [row for row in _pieces(jobs, one["id"]) if row[1] > row[0]]
        for (_, finish, job, _), (start, _, other, task) in pairwise(rows):
            if job != other and start < finish:
                yield f"twice: {one['id']} is at {job} and at {other} ({task['id']}, {start})"


def _days(built: Data, firm: Data) -> Iterator[str]:
    ways: dict[frozenset[str], int] = {}
    for one in built["people"]:
        limits = firm["people"][one["id"]]
        home = None
        for day in sorted(one["days"], key=lambda row: row["date"]):
            yield from _chain(one["id"], day)
            for drive in day["drives"]:
                pair = frozenset((drive["from"], drive["to"]))
                if ways.setdefault(pair, drive["minutes"]) != drive["minutes"]:
                    yield f"way: {sorted(pair)} takes {drive['minutes']} and {ways[pair]} min"
            if day["worked_minutes"] > 60 * _hours(limits.get("longest-day", "11 h")):
                yield f"long day: {one['id']} on {day['date']}, {day['worked_minutes']} min"
            starts = [_moment(row["start"]) for row in (*day["stops"], *day["drives"])]
            ends = [_moment(row["finish"]) for row in day["stops"]]
            ends += [_moment(row["start"]) + timedelta(minutes=row["minutes"]) for row in day["drives"]]
            if home is not None and min(starts) - home < timedelta(hours=_hours(limits.get("rest", "11 h"))):
                yield f"short night: {one['id']} before {day['date']}"
            home = max(ends)


def _hours(text: str) -> float:
    return float(text.split()[0])


def _chain(who: str, day: Data) -> Iterator[str]:
    """Follow one day: every stop is reached by a drive that fits, and the day ends at the base."""
    rows = [(_moment(row["start"]), 1, row) for row in day["stops"]]
    rows += [(_moment(row["start"]), 0, row) for row in day["drives"]]
    here, free = "base", None
    for start, is_stop, row in sorted(rows, key=lambda one: (one[0], one[1] if one[2] else 0)):
        if free is not None and start < free:
            yield f"chain: {who} on {day['date']} begins at {start} and is busy until {free}"
        if row["from"] not in (here, "base") or (not is_stop and row["from"] != here):
            yield f"chain: {who} on {day['date']} is at {here} and goes on from {row['from']}"
        here = row["to"] if not is_stop or row["to"] != "base" else here
        free = _moment(row["finish"]) if is_stop else start + timedelta(minutes=row["minutes"])
    if here != "base":
        yield f"chain: {who} on {day['date']} ends at {here}"


def _stops(built: Data, jobs: Mapping[str, Data]) -> Iterator[str]:
    """Check that whatever somebody does lies in a stop of theirs, and that work and drives add up."""
    moving = {job["id"]: job.get("day") for job in built["jobs"]}
    for one in built["people"]:
        worked = dict.fromkeys((day["date"] for day in one["days"]), 0.0)
        for start, finish, job, task in _pieces(jobs, one["id"]):
            if finish == start:
                continue
            found = _stop_of(one, job, start, finish)
            if found is None:
                yield f"stop: {one['id']} does {task['id']} of {job} at {start} and is not there"
                continue
            stop, day = found
            if task["kind"] in WORKS:
                worked[day] += (finish - start).total_seconds() / 60
            yield from (
                f"stop: {one['id']}: {wrong}" for wrong in _misplaced(job, task, stop, day, moving[job])
            )
        for row in one["days"]:
            total = worked[row["date"]] + sum(drive["minutes"] for drive in row["drives"])
            if abs(total - row["worked_minutes"]) > 1:
                yield f"worked: {one['id']} on {row['date']}: {total} min, told are {row['worked_minutes']}"


def _stop_of(one: Data, job: str, start: datetime, finish: datetime) -> tuple[Data, str] | None:
    for day in one["days"]:
        for stop in day["stops"]:
            if stop["job"] == job and _moment(stop["start"]) <= start and finish <= _moment(stop["finish"]):
                return stop, day["date"]
    return None


def _misplaced(job: str, task: Data, stop: Data, day: str, moving: str | None) -> Iterator[str]:
    if task.get("place") and stop["from"] == stop["to"] != f"{job}.{task['place']}":
        yield f"{task['id']} of {job} is at {task['place']}, they are at {stop['from']}"
    if task.get("day") == "moving-day" and day != moving:
        yield f"{task['id']} of {job} lies on another day than {moving}"


def _vehicles(built: Data, jobs: Mapping[str, Data]) -> Iterator[str]:
    crews = {job["id"]: (job["day"], job["crew"], job["vehicles"]) for job in built["jobs"] if "day" in job}
    seats = {row["id"]: row.get("seats", 0) for data in jobs.values() for row in data["vehicles"]}
    for job, (day, crew, vehicles) in crews.items():
        if any(seats.get(one) for one in vehicles) and len(crew) > sum(seats.get(one, 0) for one in vehicles):
            yield f"seats: {job} sends {len(crew)}"
        theirs = [
            (stop["start"], stop["finish"])
            for one in (*built["people"], *built["vehicles"])
            if one["id"] in (*crew, *vehicles)
            for row in one["days"]
            if row["date"] == day
            for stop in row["stops"]
            if stop["job"] == job and stop["from"] != stop["to"]
        ]
        if len(set(theirs)) > 1:
            yield f"together: crew and vehicles of {job} come or leave apart on {day}"


def _drives(built: Data, jobs: Mapping[str, Data], firm: Data) -> Iterator[str]:
    """Follow every person and vehicle by the one list of drives: who may drive does, and each is where they work."""
    seats = {row["id"]: row.get("seats") for data in jobs.values() for row in data["vehicles"]}
    for drive in built["drives"]:
        if firm["people"].get(drive["driver"], {}).get("drives") is not True:
            yield f"driver: '{drive['driver']}' drives at {drive['start']}"
        if (room := seats.get(drive.get("vehicle"))) and len(drive["along"]) >= room:
            yield f"driver: {len(drive['along'])} ride along at {drive['start']}"
    for one in (*built["people"], *built["vehicles"]):
        yield from _gets_about(built, jobs, one)


def _gets_about(built: Data, jobs: Mapping[str, Data], one: Data) -> Iterator[str]:
    rows = [row for row in built["drives"] if one["id"] in _aboard(row)]
    told = [row for day in one["days"] for row in day["drives"]]
    if any(row not in built["drives"] or one["id"] not in _aboard(row) for row in told):
        yield f"drives: {one['id']} is told drives that are not theirs"
    events = [(_moment(row["start"]), 1, row["minutes"], row["from"], row["to"]) for row in rows]
    events += [
        (start, 0, (finish - start).seconds // 60, *2 * (f"{job}.{task['place']}",))
        for start, finish, job, task in _pieces(jobs, one["id"])
        if task.get("place") and task["kind"] != "travel" and finish > start
    ]
    here, free = "base", None
    for at, moves, minutes, begins, ends in sorted(events):
        if begins != here or (moves and free is not None and at < free):
            yield f"drives: {one['id']} is at {here} until {free} and goes on from {begins} at {at}"
        here, free = ends, at + timedelta(minutes=minutes)
    if here != "base":
        yield f"drives: {one['id']} never comes home from {here}"


def _aboard(drive: Data) -> list[str]:
    return [drive["driver"], *drive["along"], drive.get("vehicle", "")]


def _gear(built: Data, jobs: Mapping[str, Data]) -> Iterator[str]:
    for gear in built["gear"]:
        changes = []
        for row in gear["taken"]:
            changes += [(_moment(row["start"]), 1, row["count"]), (_moment(row["ready"]), 0, -row["count"])]
        out = 0
        for at, _, count in sorted(changes):
            out += count
            if out > gear["count"]:
                yield f"gear: {out} {gear['id']} are out at {at}, there are {gear['count']}"
                break
        for job, data in jobs.items():
            taken = [row for row in gear["taken"] if row["job"] == job]
            for hold in (one for one in data["holds"] if one["gear"] == gear["id"]):
                begin, end = _moment(hold["start"]), _moment(hold["finish"])
                if not any(_moment(row["start"]) <= begin and end <= _moment(row["ready"]) for row in taken):
                    yield f"gear: {job} holds {gear['id']} from {begin} on, and has none then"


def _containers(built: Data, jobs: Mapping[str, Data], firm: Data) -> Iterator[str]:
    """Count containers by the numbers on them, over all jobs, from the first use of each to being dry again."""
    ready = {one["id"]: _after(one.get("ready-after", "0 h")) for one in firm["gear"]}
    for gear in built["gear"]:
        rows = [
            (_moment(use["from"]), _moment(use["until"]), job, use["number"])
            for job, data in jobs.items()
            for use in data["containers"]
            if use["gear"] == gear["id"] and "from" in use
        ]
        for at in sorted(row[0] for row in rows):
            out = {row[2:] for row in rows if row[0] <= at < row[1] + ready[gear["id"]]}
            if len(out) > gear["count"]:
                yield f"containers: {len(out)} {gear['id']} are out at {at}, there are {gear['count']}"
                break
        for begin, end, job, number in rows:
            near = [row for row in rows if row[2] == job and row[0] <= begin < row[1]]
            taken = [
                row
                for row in gear["taken"]
                if row["job"] == job and _moment(row["start"]) <= begin and end <= _moment(row["ready"])
            ]
            if sum(row["count"] for row in taken) < len({row[3] for row in near if row[1] <= end}):
                yield f"containers: {number} of {job} is in use from {begin} on, and is not out then"


def _after(text: str) -> timedelta:
    count, unit = text.split()
    return timedelta(hours=float(count) * {"h": 1, "hour": 1, "day": 24, "days": 24}[unit])


def _promises(built: Data) -> Iterator[str]:
    for job in built["jobs"]:
        if job["promised"] and "day" not in job:
            yield f"promise: {job['id']} has no day"
        day = job.get("day")
        if day is not None and date.fromisoformat(day) < _moment(built["now"]).date():
            yield f"promise: {job['id']} lies in the past"
