"""What a build left in a folder, and what its calendars have to say: shared by the readers."""

import csv
import hashlib
import json
import pathlib
import sys
from datetime import date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo


class Expected:
    """A session, or a day that is trained for, as an event: dates for a day without an hour, instants
    in UTC else."""

    def __init__(self, session, title, plan):
        self.uid, self.title = session["uid"], title
        self.targets = session.get("targets", {"power_w": None, "heart_rate_bpm": None})
        self.status = "TENTATIVE" if session.get("provisional") else "CONFIRMED"
        self.words = [f"at most {a['power_w']} W" for a in session.get("allowed", []) if a["power_w"]]
        if there := session.get("instead"):
            self.words.append("instead: ")
            self.words += [f"{there['targets']['power_w'][1]} W"] if there["targets"]["power_w"] else []
        day = date.fromisoformat(session["date"])
        self.reminder = None
        if session.get("start") is None or not plan["calendar"]["hours"]:
            self.start, self.end = day, day + timedelta(days=1)
            return
        if plan["calendar"]["reminder_min"]:
            self.reminder = -timedelta(minutes=plan["calendar"]["reminder_min"])
        local = datetime.fromisoformat(f"{session['date']}T{session['start']}:00")
        self.start = local.replace(tzinfo=ZoneInfo(session["zone"])).astimezone(timezone.utc)
        self.end = self.start + timedelta(minutes=session["minutes"])

    def differs(self, start, end, summary, description, status, reminders):
        """Compares an event as a reader sees it, and says what is wrong."""
        wrong = []
        if (start, end) != (self.start, self.end):
            wrong.append(f"from {start} to {end}, want {self.start} to {self.end}")
        if summary != self.title:
            wrong.append(f"title {summary!r}, want {self.title!r}")
        if status != self.status:
            wrong.append(f"status {status}, want {self.status}")
        if reminders != ([] if self.reminder is None else [self.reminder]):
            wrong.append(f"reminders {reminders}, want {self.reminder}")
        wrong += [f"no {text!r} in the description" for text in self.words if text not in description]
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
        yield folder, [Expected(s, titles[s["uid"]], plan) for s in plan["sessions"]] + [
            Expected(e, e["title"], plan) for e in plan["events"]
        ]
    if not found:
        sys.exit(f"{root}: no files.json anywhere")


def utc(value):
    """An instant in UTC, a date as it is."""
    return value.astimezone(timezone.utc) if isinstance(value, datetime) else value


def compare(path, expected, events):
    """events: (uid, start, end, summary, description, status, reminders). Prints one line, returns whether all is well."""
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
