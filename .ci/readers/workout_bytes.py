"""Reads the bytes of workout files by the layout of the FIT protocol, without any library: header,
both checksums, definitions, the order of messages, and fields that must never hold "no value"."""

import json
import pathlib
import struct
import sys

FILE_ID, WORKOUT, STEP = 0, 26, 27
STRING = 7
# Base type: size and the value that means "none" (FIT protocol, base types).
BASE = {0x00: (1, 0xFF), 0x02: (1, 0xFF), 0x84: (2, 0xFFFF), 0x86: (4, 0xFFFFFFFF), 0x0A: (1, 0), 0x8B: (2, 0), 0x8C: (4, 0)}
EPOCH = 631065600  # 1989-12-31T00:00:00Z


def crc16(data):
    """The protocol's checksum: CRC-16 with the reflected polynomial 0xA001, from 0."""
    crc = 0
    for byte in data:
        crc ^= byte
        for _ in range(8):
            crc = crc >> 1 ^ (0xA001 if crc & 1 else 0)
    return crc


def messages(data):
    """Yields (number, fields) of each data message; raises ValueError at what the layout forbids."""
    size, protocol, _, length, magic, head = struct.unpack("<BBHI4sH", data[:14])
    if (size, protocol, magic) != (14, 0x10, b".FIT") or length != len(data) - 16:
        raise ValueError(f"header {data[:14].hex()} of {len(data)} bytes")
    if head != crc16(data[:12]) or struct.unpack("<H", data[-2:])[0] != crc16(data[:-2]):
        raise ValueError("a checksum is wrong")
    at, end, known = 14, len(data) - 2, {}
    while at < end:
        kind, local = data[at] & 0xF0, data[at] & 0x0F
        at += 1
        if kind == 0x40:
            if data[at : at + 2] != b"\0\0":
                raise ValueError("a definition that is not little-endian")
            number, count = struct.unpack_from("<HB", data, at + 2)
            at += 5
            known[local] = number, [tuple(data[at + 3 * i : at + 3 * i + 3]) for i in range(count)]
            at += 3 * count
        elif kind == 0:
            number, fields = known[local]
            values = {}
            for field, size, base in fields:
                raw, at = data[at : at + size], at + size
                if base == STRING:
                    text, zero, _ = raw.partition(b"\0")
                    if not zero or not text:
                        raise ValueError(f"message {number}, field {field}: a text that is empty or has no end")
                    values[field] = text.decode("utf-8")
                    continue
                width, none = BASE[base]
                values[field] = int.from_bytes(raw, "little")
                if size != width or values[field] == none:
                    raise ValueError(f"message {number}, field {field}: {raw.hex()} means no value")
            yield number, values
        else:
            raise ValueError(f"record header {kind | local:#x}")
    if at != end:
        raise ValueError("the last message leaves the file")


def wrong(data, device):
    """Says what is wrong with a workout file for a device, None where nothing is."""
    (first, file_id), (second, workout), *steps = messages(data)
    if (first, second) != (FILE_ID, WORKOUT) or any(number != STEP for number, _ in steps):
        return "its messages are not file_id, workout, steps"
    if (file_id[0], file_id[1], file_id[2]) != (5, 255, 0) or not file_id[3]:
        return f"file_id {file_id}"
    if (file_id[4] + EPOCH) % 86400:
        return "made at another time than 00:00 UTC of the session's date"
    if workout[6] != len(steps) or len(workout[8].encode()) > 15 or len(steps) > device["most_steps"]:
        return f"workout {workout} before {len(steps)} steps"
    texts = [value for _, fields in messages(data) for value in fields.values() if isinstance(value, str)]
    if device["letters"] == "plain" and not all(text.isascii() for text in texts):
        return f"letters that the device does not show in {texts}"
    if not device["heart_rate"] and any(1 in (step[3], step.get(19)) for _, step in steps):
        return "a target of heart rate, which the device does not take"
    for i, (_, step) in enumerate(steps):
        offset = {4: 1000, 1: 100}.get(step[3])
        if step[254] != i or offset and not (step[4] == 0 and offset < step[5] <= step[6]):
            return f"step {i}: {step}"
        second = {4: 1000, 1: 100}.get(step.get(19))
        if second and not (step[20] == 0 and second < step[21] <= step[22]):
            return f"step {i}: {step}"
    return None


bad = 0
files = sorted(pathlib.Path(sys.argv[1]).rglob("*.fit"))
for file in files:
    try:
        fault = wrong(file.read_bytes(), json.loads((file.parent.parent / "plan.json").read_text())["device"])
    except (ValueError, KeyError, struct.error) as error:
        fault = repr(error)
    if fault:
        bad += 1
        print(f"{file}: {fault}")
print(f"{len(files)} workout files, {bad} with wrong bytes")
sys.exit(1 if bad or not files else 0)
