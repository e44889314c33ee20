// Reads calendars with ical.js and compares them with plan.json. Offsets come from the VTIMEZONE
// of the file alone.
import fs from 'node:fs';
import path from 'node:path';
import ICAL from 'ical.js';
import { blocks, instant, report } from './blocks.mjs';

ICAL.design.strict = true;
for (const { folder, plan } of blocks(process.argv[2])) {
  const file = path.join(folder, 'calendar.ics');
  const calendar = new ICAL.Component(ICAL.parse(fs.readFileSync(file, 'utf8')));
  ICAL.TimezoneService.reset();
  for (const zone of calendar.getAllSubcomponents('vtimezone')) ICAL.TimezoneService.register(zone);
  const events = calendar.getAllSubcomponents('vevent').map((c) => new ICAL.Event(c));
  const wrong = [];
  const planned = [...plan.sessions, ...plan.events.map((e) => ({ ...e, start: null, targets: {} }))];
  if (events.length !== planned.length) wrong.push(`${events.length} events, want ${planned.length}`);
  const byUID = new Map(events.map((e) => [e.uid, e]));
  if (byUID.size !== events.length) wrong.push('a UID comes twice');
  for (const s of planned) {
    const e = byUID.get(s.uid);
    if (!e) {
      wrong.push(`${s.uid}: missing`);
      continue;
    }
    const status = e.component.getFirstPropertyValue('status');
    if (status !== (s.provisional ? 'TENTATIVE' : 'CONFIRMED')) wrong.push(`${s.uid}: its status is ${status}`);
    const before = e.component.getAllSubcomponents('valarm').map((a) => -a.getFirstPropertyValue('trigger').toSeconds() / 60);
    const timed = s.start !== null && plan.calendar.hours;
    if (before.join() !== String((timed && plan.calendar.reminder_min) || '')) wrong.push(`${s.uid}: reminders ${before} min before`);
    if (!timed) {
      if (!e.startDate.isDate || e.startDate.toString() !== s.date) wrong.push(`${s.uid}: starts ${e.startDate}, want ${s.date}`);
      if (e.duration.toSeconds() !== 86400) wrong.push(`${s.uid}: lasts ${e.duration}`);
    } else {
      const start = e.startDate.toJSDate().getTime();
      const want = instant(s.date, s.start, s.zone);
      if (start !== want) wrong.push(`${s.uid}: starts ${new Date(start).toISOString()}, want ${new Date(want).toISOString()}`);
      if (e.endDate.toJSDate().getTime() - start !== s.minutes * 60000) wrong.push(`${s.uid}: lasts ${e.duration}`);
    }
    const power = s.targets.power_w;
    if (power && !e.description.includes(`${power[1]} W`)) wrong.push(`${s.uid}: no watts ${power} in the description`);
    if (!e.summary) wrong.push(`${s.uid}: no title`);
  }
  report(file, wrong, `${events.length} events as planned`);
}
