// Reads workout files with fit-file-parser, rides them as a device does, and compares every second
// and target with plan.json.
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';
import { blocks, report } from './blocks.mjs';

const module = createRequire(import.meta.url)('fit-file-parser');
const FitParser = module.default ?? module;

const wattsOffset = 1000; // FIT profile, type workout_power
const beatsOffset = 100; // FIT profile, type workout_hr

for (const { folder, plan } of blocks(process.argv[2])) {
  const files = fs.readdirSync(path.join(folder, 'workouts')).sort();
  const waiting = new Set(files);
  const serials = new Set();
  let before; // the name of the session's own file, for what may be ridden instead
  for (const session of plan.sessions.flatMap((s) => (s.instead ? [s, { ...s, ...s.instead, other: true }] : [s]))) {
    const head = `${session.date}-${session.ride ?? session.session}`;
    const numbers = [...waiting.keys()].filter((f) => f.startsWith(`${head}-`) && /^\d+\.fit$/.test(f.slice(head.length + 1)));
    const name = session.other
      ? [...waiting.keys()].find((f) => f === before.replace('.fit', `-${session.place}.fit`))
      : before = [...waiting.keys()].find((f) => f === `${head}.fit`) ?? numbers[0];
    if (!name) {
      report(folder, [`no workout file for ${session.key}`]);
      continue;
    }
    waiting.delete(name);
    const file = path.join(folder, 'workouts', name);
    const data = await parse(file);
    const wrong = compare(session, data, plan.device);
    const serial = data.messages.file_id[0].serial_number;
    if (serials.has(serial)) wrong.push(`the serial number ${serial} comes twice`);
    serials.add(serial);
    report(file, wrong, `${data.messages.workout_step.length} steps, ${session.minutes} min as planned`);
  }
  if (waiting.size > 0) report(folder, [`workout files that nothing asks for: ${[...waiting].join(' ')}`]);
}

async function parse(file) {
  const parser = new FitParser({ force: false, mode: 'list' });
  return new Promise((resolve, reject) => parser.parse(fs.readFileSync(file), (error, data) => {
    if (error) reject(new Error(`${file}: ${error}`));
    else resolve(data);
  }));
}

function compare(session, { messages }, device) {
  const wrong = [];
  const steps = messages.workout_step;
  const head = messages.workout[0];
  if (messages.file_id[0].type !== 'workout') wrong.push(`a file of type ${messages.file_id[0].type}`);
  if (head.num_valid_steps !== steps.length) wrong.push(`announces ${head.num_valid_steps} steps, holds ${steps.length}`);
  if (steps.length > device.most_steps) wrong.push(`${steps.length} steps`);
  const want = unroll(session.steps);
  const got = ride(steps, wrong);
  const total = got.reduce((sum, s) => sum + s.duration_value / 1000, 0);
  if (total !== session.minutes * 60) wrong.push(`rides ${total} s, want ${session.minutes * 60} s`);
  for (const w of want) {
    let left = w.duration_s;
    while (left > 0 && got.length > 0) {
      const g = got.shift();
      left -= g.duration_value / 1000;
      wrong.push(...targets(session, w, g, device));
    }
    if (left !== 0) wrong.push(`${w.name}: ${left} s are missing`);
  }
  return wrong;
}

// unroll lists the steps of plan.json as they are ridden.
function unroll(steps) {
  return steps.flatMap((s) => (s.kind === 'repeat' ? Array(s.times).fill(unroll(s.steps)).flat() : [s]));
}

// ride follows the file's steps and loops as a device does.
function ride(steps, wrong) {
  const out = [];
  const rounds = new Map();
  for (let i = 0; i < steps.length && out.length < 10000;) {
    const s = steps[i];
    if (s.message_index.value !== i) wrong.push(`step ${i} has the index ${s.message_index.value}`);
    if (s.duration_type === 'time') {
      out.push(s);
      i++;
    } else if (s.duration_type === 'repeat_until_steps_cmplt') {
      const left = (rounds.get(i) ?? s.target_value) - 1;
      rounds.set(i, left > 0 ? left : undefined);
      i = left > 0 ? s.duration_value : i + 1;
    } else {
      wrong.push(`step ${i} lasts by ${s.duration_type}`);
      i++;
    }
  }
  return out;
}

function targets(session, want, got, device) {
  const wrong = [];
  const found = {};
  const put = (kind, value, low, high) => {
    if (kind === undefined || kind === 'open') return;
    if (value !== 0) wrong.push(`${want.name}: a zone of the device`);
    const offset = { power: wattsOffset, heart_rate: beatsOffset }[kind];
    found[kind] = [low - offset, high - offset];
  };
  put(got.target_type, got.target_value, got.custom_target_value_low, got.custom_target_value_high);
  put(got.secondary_target_type, got.secondary_target_value, got.secondary_custom_target_value_low, got.secondary_custom_target_value_high);
  const leads = device.leads ?? session.leads;
  const byEffort = leads === 'effort' && session.targets.rpe; // a test ridden all out has no effort to hold
  const watts = byEffort || want.kind === 'open' ? null : want.power_w;
  if (watts && want.kind === 'ramp') {
    const inside = found.power && found.power[0] >= watts[0] && found.power[1] <= watts[1];
    if (!inside) wrong.push(`${want.name}: ${found.power} W, want stairs within ${watts} W`);
  } else if (String(found.power) !== String(watts ?? undefined)) {
    wrong.push(`${want.name}: ${found.power} W, want ${watts} W`);
  }
  if (want.heart_rate_bpm && want.kind !== 'open') {
    const high = want.heart_rate_bpm[1];
    if (found.heart_rate ? found.heart_rate[1] !== high : !got.notes.includes(`${high} bpm`)) {
      wrong.push(`${want.name}: ${found.heart_rate} bpm, want at most ${high} bpm`);
    }
    const first = leads === 'heart_rate' ? 'heart_rate' : 'power';
    if (found.power && found.heart_rate && got.target_type !== first) wrong.push(`${want.name}: ${got.target_type} first`);
  } else if (found.heart_rate) {
    wrong.push(`${want.name}: a heart rate that the plan does not ask for`);
  }
  return wrong;
}
