#!/usr/bin/python3
"""Reads calendars with vobject (Debian: python3-vobject), which checks them as well, and compares
them with plan.json."""

import sys

import vobject

import blocks


def events(path):
    calendar = vobject.readOne(path.read_text(encoding="utf-8", errors="strict"))
    calendar.validate(raiseException=True)
    for event in calendar.vevent_list:
        start = event.dtstart.value
        end = event.dtend.value if hasattr(event, "dtend") else start + event.duration.value
        alarms = [alarm.trigger.value for alarm in getattr(event, "valarm_list", [])]
        yield (event.uid.value, blocks.utc(start), blocks.utc(end), event.summary.value, event.description.value,
               event.status.value, alarms)


ok = [blocks.compare(f / "calendar.ics", want, list(events(f / "calendar.ics"))) for f, want in blocks.blocks(sys.argv[1])]
sys.exit(0 if all(ok) else 1)
