// Checks plan.json and files.json against their schemas with ajv, which is not the validator of the
// Go tests; then that the totals of weeks, the sessions, their steps and sessions.csv agree.
import fs from 'node:fs';
import path from 'node:path';
import Ajv from 'ajv/dist/2020.js';
import formats from 'ajv-formats';
import { blocks, report } from './blocks.mjs';

const ajv = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true });
formats(ajv);
const schema = (name) => ajv.compile(JSON.parse(fs.readFileSync(new URL(`../../schemas/${name}`, import.meta.url), 'utf8')));
const isPlan = schema('plan.json');
const isList = schema('files.json');
schema('check.json');

// The order in which a reader meets the parts.
const top = ['$schema', 'generator', 'plan', 'athlete', 'block', 'as_of', 'open_length', 'calendar', 'device', 'events', 'weeks', 'bands',
  'sessions', 'other_sport', 'findings'];

for (const { folder, plan } of blocks(process.argv[2])) {
  const wrong = [];
  const demand = (ok, what) => ok || wrong.push(what);
  demand(isPlan(plan), `plan.json: ${ajv.errorsText(isPlan.errors)}`);
  const list = JSON.parse(fs.readFileSync(path.join(folder, 'files.json'), 'utf8'));
  demand(isList(list), `files.json: ${ajv.errorsText(isList.errors)}`);
  demand(Object.keys(plan).join() === top.join(), `plan.json has the keys ${Object.keys(plan)}`);

  const sum = (sessions) => sessions.reduce((minutes, s) => minutes + s.minutes, 0);
  for (const week of plan.weeks) {
    const inside = plan.sessions.filter((s) => s.week === week.number);
    demand(sum(inside) === week.placed_min, `week ${week.number}: ${sum(inside)} min in sessions, ${week.placed_min} placed`);
    for (const m of week.mix) {
      const ridden = sum(inside.filter((s) => s.ride === m.ride));
      demand(ridden === m.placed_min, `week ${week.number}: ${ridden} min of ${m.ride}, ${m.placed_min} placed`);
    }
    for (const s of inside) {
      const day = (Date.parse(s.date) - Date.parse(week.start)) / 86_400_000;
      demand(day >= 0 && day < 7, `${s.key}: ${s.date} is not in its week`);
    }
  }

  const seconds = (steps) => steps.reduce((n, s) => n + (s.kind === 'repeat' ? s.times * seconds(s.steps) : s.duration_s), 0);
  const told = new Set();
  const rows = table(fs.readFileSync(path.join(folder, 'sessions.csv'), 'utf8'));
  demand(rows.length === plan.sessions.length, `${rows.length} rows for ${plan.sessions.length} sessions`);
  plan.sessions.forEach((s, i) => {
    demand(seconds(s.steps) === 60 * s.minutes, `${s.key}: its steps last ${seconds(s.steps)} s, the session ${s.minutes} min`);
    demand(origins(s.origin, told), `${s.key}: an origin that nothing before tells`);
    const there = s.instead;
    if (there) {
      demand(seconds(there.steps) === 60 * there.minutes, `${s.key}: ${there.place}, its steps last ${seconds(there.steps)} s`);
      demand(there.place !== s.place, `${s.key}: the other place is ${there.place} as well`);
      demand(origins(there.origin, told), `${s.key}: ${there.place}, an origin that nothing before tells`);
    }
    demand(s.provisional === plan.weeks.find((w) => w.number === s.week).provisional, `${s.key}: provisional, and its week is not, or the reverse`);
    const { power_w: w, heart_rate_bpm: b, rpe: e } = s.targets;
    const want = {
      ...Object.fromEntries(['date', 'start', 'zone', 'week', 'key', 'uid', 'ride', 'fixed', 'session', 'minutes', 'place', 'placed', 'leads'].map((k) => [k, s[k]])),
      provisional: s.provisional ? 'yes' : '', instead_place: there?.place, instead_minutes: there?.minutes,
      power_low_w: w?.[0], power_high_w: w?.[1], heart_rate_low_bpm: b?.[0], heart_rate_high_bpm: b?.[1], rpe_at_most: e?.[1],
    };
    for (const [column, value] of Object.entries(want)) {
      demand(rows[i]?.[column] === String(value ?? ''), `${s.key}: ${column} is ${rows[i]?.[column]} in the table, ${value} in plan.json`);
    }
  });
  report(folder, wrong, `plan.json fits its schema, ${plan.sessions.length} sessions add up`);
}

// origins follows the rule of the schema: a null from has been told by an equal origin before it.
function origins(o, told) {
  const key = JSON.stringify([o.what, o.file, o.line, o.source]);
  if (o.from === null) return told.has(key);
  const ok = o.from.every((part) => origins(part, told));
  told.add(key);
  return ok;
}

// table reads RFC 4180: CR LF between rows, quotes doubled inside quotes.
function table(text) {
  const rows = [[]];
  const cell = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/gy;
  for (let m; cell.lastIndex < text.length;) {
    if (!(m = cell.exec(text))) throw new Error('sessions.csv is not RFC 4180');
    rows.at(-1).push(m[1] === undefined ? m[2] : m[1].replaceAll('""', '"'));
    if (m[3] === '\r\n') rows.push([]);
  }
  const [head, ...rest] = rows.slice(0, -1);
  if (rest.some((r) => r.length !== head.length)) throw new Error('sessions.csv has rows of different lengths');
  return rest.map((r) => Object.fromEntries(head.map((name, i) => [name, r[i]])));
}
