"""What a build left in a folder, and what its calendars have to say: shared by the readers."""

import csv
import hashlib
import json
import pathlib
import sys
from datetime import date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo


class Expected:
    """One session as an event: dates for a day without an hour, instants in UTC else."""

    def __init__(self, session, title):
        self.uid, self.title, self.targets = session["uid"], title, session["targets"]
        day = date.fromisoformat(session["date"])
        self.all_day = session["start"] is None
        if self.all_day:
            self.start, self.end = day, day + timedelta(days=1)
            return
        local = datetime.fromisoformat(f"{session['date']}T{session['start']}:00")
        self.start = local.replace(tzinfo=ZoneInfo(session["zone"])).astimezone(timezone.utc)
        self.end = self.start + timedelta(minutes=session["minutes"])

    def differs(self, start, end, summary, description):
        """Compares an event as a reader sees it, and says what is wrong."""
        wrong = []
        if (start, end) != (self.start, self.end):
            wrong.append(f"from {start} to {end}, want {self.start} to {self.end}")
        if summary != self.title:
            wrong.append(f"title {summary!r}, want {self.title!r}")
        power = self.targets["power_w"]
        if power and f"{power[0]}-{power[1]} W" not in description and f"{power[1]} W" not in description:
            wrong.append(f"no watts {power} in the description")
        beats = self.targets["heart_rate_bpm"]
        if beats and f"{beats[1]} bpm" not in description:
            wrong.append(f"no beats {beats} in the description")
        return wrong


def blocks(root):
    """Yields each folder of a block with its expected events, after checking its manifest."""
    found = False
    for manifest in sorted(pathlib.Path(root).rglob("files.json")):
        folder, found = manifest.parent, True
        names = []
        for entry in json.loads(manifest.read_text())["files"]:
            names.append(entry["name"])
            content = (folder / entry["name"]).read_bytes()
            if hashlib.sha256(content).hexdigest() != entry["sha256"]:
                sys.exit(f"{folder / entry['name']}: not the content that files.json names")
        there = {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()} - {"files.json"}
        if there != set(names) or len(names) != len(set(names)):
            sys.exit(f"{folder}: files.json names {sorted(names)}, the folder holds {sorted(there)}")
        plan = json.loads((folder / "plan.json").read_text())
        with open(folder / "sessions.csv", newline="", encoding="utf-8") as f:
            titles = {row["uid"]: row["title"] for row in csv.DictReader(f, strict=True)}
        if set(titles) != {s["uid"] for s in plan["sessions"]}:
            sys.exit(f"{folder}: sessions.csv and plan.json hold different sessions")
        yield folder, [Expected(s, titles[s["uid"]]) for s in plan["sessions"]]
    if not found:
        sys.exit(f"{root}: no files.json anywhere")


def utc(value):
    """An instant in UTC, a date as it is."""
    return value.astimezone(timezone.utc) if isinstance(value, datetime) else value


def compare(path, expected, events):
    """events: (uid, start, end, summary, description). Prints one line, returns whether all is well."""
    wrong = []
    by_uid = {e[0]: e for e in events}
    if len(by_uid) != len(events):
        wrong.append("a UID comes twice")
    if len(events) != len(expected):
        wrong.append(f"{len(events)} events, want {len(expected)}")
    for want in expected:
        event = by_uid.get(want.uid)
        wrong += [f"{want.uid}: missing"] if event is None else [f"{want.uid}: {w}" for w in want.differs(*event[1:])]
    print(f"{path}: {'; '.join(wrong) if wrong else f'{len(events)} events as planned'}")
    return not wrong
