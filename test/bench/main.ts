import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { understood } from '../support/understood.ts';
import { benchCatalogue } from './catalogue/bench.ts';
import { benchExamples } from './examples.ts';
import { printFamilies, solvedFamilies } from './families.ts';
import { flagsOf, type Flags } from './flags.ts';
import { FAMILIES } from './instances.ts';
import { benchPublished } from './published.ts';
import { benchRead } from './read/bench.ts';
import { benchRollUp } from './rollUp.ts';
import { targetsOf, type Found } from './targets.ts';
import { TRIED } from './tried.ts';
import { benchSearch } from './search/bench.ts';
import { benchVan } from './van.ts';

// How long things take: npm run bench -- [--only loom,wide] [--seeds 1-10] [--seconds 60] [--direct-seconds 120] [--json FILE]

async function main(flags: Flags): Promise<boolean> {
  const { only, json } = flags;
  if (only.has('read')) await benchRead();
  if (only.has('catalogue')) await benchCatalogue();
  if (only.has('search')) await benchSearch();
  if (only.has('rollUp')) benchRollUp();
  if (only.has('examples')) await benchExamples();
  const families = FAMILIES.some((family) => only.has(family));
  if (!families && !only.has('published') && !only.has('van')) return true;
  const found: Found = { rows: [] };
  // After each, so that a run that is broken off leaves what it has.
  const write = () => {
    if (json !== undefined) writeFileSync(json, jsonOf(flags, found));
  };
  if (only.has('van')) found.van = await benchVan(flags.seconds);
  await solvedFamilies(flags, (row) => {
    found.rows.push(row);
    write();
  });
  const agrees = !families || printFamilies(found.rows);
  if (only.has('published')) found.published = await benchPublished();
  write();
  console.log('Targets, in seconds of processor');
  console.table(targetsOf(found));
  console.log(TRIED);
  return agrees;
}

function jsonOf(flags: Flags, found: Found): string {
  const { seeds, seconds, directSeconds } = flags;
  const machine = { node: process.version, cpu: cpus()[0]?.model, cpus: cpus().length };
  const all = { machine, seeds, seconds, directSeconds, ...found, targets: targetsOf(found) };
  return `${JSON.stringify(all, undefined, 2)}\n`;
}

// 2: what was asked cannot be understood.
const asked = understood(() => flagsOf(process.argv.slice(2)));
if (typeof asked === 'string') {
  console.error(asked);
  process.exitCode = 2;
} else process.exitCode = (await main(asked)) ? 0 : 1;
