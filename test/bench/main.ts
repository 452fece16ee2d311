import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { understood } from '../support/understood.ts';
import { benchExamples } from './examples.ts';
import { printFamilies, solvedFamilies } from './families.ts';
import { flagsOf, type Flags } from './flags.ts';
import { FAMILIES } from './instances.ts';
import { benchPublished } from './published.ts';
import { benchRollUp } from './rollUp.ts';
import type { Row } from './row.ts';
import { targetsOf, type Published } from './targets.ts';
import { TRIED } from './tried.ts';

// How long things take: npm run bench -- [--only loom,wide] [--seeds 1-10] [--seconds 60] [--direct-seconds 120] [--json FILE]

async function main(flags: Flags): Promise<boolean> {
  const { only, json } = flags;
  if (only.has('rollUp')) benchRollUp();
  if (only.has('examples')) await benchExamples();
  const families = FAMILIES.some((family) => only.has(family));
  if (!families && !only.has('published')) return true;
  const rows: Row[] = [];
  let published: Published | undefined;
  // After each, so that a run that is broken off leaves what it has.
  const write = () => {
    if (json !== undefined) writeFileSync(json, jsonOf(flags, rows, published));
  };
  await solvedFamilies(flags, (row) => {
    rows.push(row);
    write();
  });
  const agrees = !families || printFamilies(rows);
  if (only.has('published')) published = await benchPublished();
  write();
  console.log('Targets');
  console.table(targetsOf(rows, published));
  console.log(TRIED);
  return agrees;
}

function jsonOf(flags: Flags, rows: readonly Row[], published: Published | undefined): string {
  const { seeds, seconds, directSeconds } = flags;
  const machine = { node: process.version, cpu: cpus()[0]?.model, cpus: cpus().length };
  const targets = targetsOf(rows, published);
  return `${JSON.stringify({ machine, seeds, seconds, directSeconds, rows, published, targets }, undefined, 2)}\n`;
}

// 2: what was asked cannot be understood.
const asked = understood(() => flagsOf(process.argv.slice(2)));
if (typeof asked === 'string') {
  console.error(asked);
  process.exitCode = 2;
} else process.exitCode = (await main(asked)) ? 0 : 1;
