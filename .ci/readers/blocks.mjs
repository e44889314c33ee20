// The blocks that a build left in a folder: shared by the readers.
import fs from 'node:fs';
import path from 'node:path';

// blocks lists the folders with a plan.json beneath root, with the plan.
export function blocks(root) {
  const found = fs.readdirSync(root, { recursive: true })
    .filter((name) => path.basename(name) === 'plan.json')
    .sort()
    .map((name) => {
      const folder = path.join(root, path.dirname(name));
      return { folder, plan: JSON.parse(fs.readFileSync(path.join(folder, 'plan.json'), 'utf8')) };
    });
  if (found.length === 0) fail(`${root}: no plan.json anywhere`);
  return found;
}

export function fail(message) {
  console.log(message);
  process.exit(1);
}

// report prints one line for a file and remembers whether anything was wrong.
let bad = false;
export function report(file, wrong, well) {
  console.log(`${file}: ${wrong.length ? wrong.join('; ') : well}`);
  bad ||= wrong.length > 0;
}
process.on('exit', (code) => {
  if (bad && code === 0) process.exitCode = 1;
});

// instant is when clocks in a zone show a local time, by the zones that Node brings.
export function instant(day, clock, zone) {
  const shown = Date.parse(`${day}T${clock}:00Z`);
  const format = new Intl.DateTimeFormat('sv-SE', {
    timeZone: zone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', second: '2-digit',
  });
  let at = shown;
  for (let i = 0; i < 3; i++) at += shown - Date.parse(`${format.format(at).replace(' ', 'T')}Z`);
  return at;
}
