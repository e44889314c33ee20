#!/usr/bin/python3
"""Reads calendars with icalendar (Debian: python3-icalendar) and compares them with plan.json."""

import sys

import icalendar

import blocks


def events(path):
    for event in icalendar.Calendar.from_ical(path.read_bytes()).walk("VEVENT"):
        if event.errors:
            sys.exit(f"{path}: {event.errors}")
        start = event.decoded("DTSTART")
        end = event.decoded("DTEND") if "DTEND" in event else start + event.decoded("DURATION")
        alarms = [alarm.decoded("TRIGGER") for alarm in event.walk("VALARM")]
        yield (str(event["UID"]), blocks.utc(start), blocks.utc(end), str(event["SUMMARY"]), str(event["DESCRIPTION"]),
               str(event["STATUS"]), alarms)


ok = [blocks.compare(f / "calendar.ics", want, list(events(f / "calendar.ics"))) for f, want in blocks.blocks(sys.argv[1])]
sys.exit(0 if all(ok) else 1)
