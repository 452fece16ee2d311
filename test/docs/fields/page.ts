import { readFileSync } from 'node:fs';
import { Fit } from '../../../worker/engine/model/fit.ts';
import { ClubTerms, Job, QuoteRequest } from '../../../worker/engine/model/job.ts';
import { Lane } from '../../../worker/engine/model/lane.ts';
import { Loom } from '../../../worker/engine/model/loom.ts';
import { Offer } from '../../../worker/engine/model/offer.ts';
import { Part } from '../../../worker/engine/model/part.ts';
import { Rate } from '../../../worker/engine/model/rate.ts';
import { DEFAULT_SETTINGS, Settings, settingText } from '../../../worker/engine/model/settings.ts';
import { StockItem } from '../../../worker/engine/model/stock.ts';
import { Supplier } from '../../../worker/engine/model/supplier.ts';
import { partOf, parts as starterParts } from '../../starter/starterParts.ts';
import { code } from './rows.ts';
import { Samples } from './samples.ts';
import type { Any } from './schema.ts';
import { sectionText, slugOf, titleOf, type Told } from './sections.ts';
import { fieldWords } from './words.ts';

/** What a user writes, in the order of the page. */
export const TOP: readonly Any[] = [
  Part,
  Supplier,
  Offer,
  Loom,
  QuoteRequest,
  Settings,
  ClubTerms,
  Fit,
  StockItem,
  Rate,
  Lane,
];

const INTRO = `# Fields

This page lists every field that you write: in a job file, and in what you send to the server. The heading of a table says what the fields belong to.

- **field**: the name, as you write it. \`breaks[].fromPacks\` is the field \`fromPacks\` of each entry of the list \`breaks\`.
- **takes**: what kind of value, its unit and its limits. Write text in quotation marks: \`"red"\`. Write numbers without: \`1.5\`. For a link, write the fields of the section that it leads to.
- **needed**: \`yes\` means that you must state it, in each entry of its list or group that you write. You may leave out everything else.
- **default**: the value that is used if you leave the field out. An empty cell means that nothing is assumed.

A field that is not on this page is a fault: the answer names it.

This page is made from the program by \`npm run docs:fields\`. Do not edit it by hand.
`;

const read = (file: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${file}`, import.meta.url), 'utf8'));

/** The wire that looms use most. */
const TYPICAL = 'pvc-vehicle-14-0.30-green-white';

/** The values of the starter catalogue and of two examples. */
function samples(): Samples {
  const found = new Samples();
  for (const part of [partOf(TYPICAL), ...starterParts]) found.read(Part, part);
  for (const name of ['van', 'from-abroad']) {
    const job = read(`${name}/job.json`) as { looms: unknown[]; request: unknown };
    found.read(Job, job);
    for (const loom of job.looms) found.read(Loom, loom);
    found.read(QuoteRequest, job.request);
  }
  return found;
}

function settingDefault(section: string, field: string): string | undefined {
  const known = Object.entries(DEFAULT_SETTINGS).find(([name]) => name === field);
  if (section !== 'Settings' || !known) return undefined;
  const [, value] = known;
  const isRules = Array.isArray(value) && value.some((item) => typeof item === 'object');
  // Rules are told in words, which are shorter.
  return isRules ? settingText(value) : code(JSON.stringify(value));
}

/** The page of all fields that a user writes, as markdown. */
export function fieldsPage(): string {
  const told: Told = { done: new Set(), waiting: [], missing: [] };
  const around = {
    samples: samples(),
    linkOf: (id: string) => `[${titleOf(id).toLowerCase()}](#${slugOf(titleOf(id))})`,
    wordsOf: fieldWords,
    defaultOf: settingDefault,
  };
  const own = new Set<Any>(TOP);
  const text = TOP.flatMap((schema) => sectionText(schema, 2, told, around, own));
  const shared = told.waiting.flatMap((schema) => sectionText(schema, 3, told, around, own));
  if (told.missing.length > 0)
    throw new Error(`no words for ${told.missing.join(', ')}: state a description, or add them to words.ts`);
  return [INTRO, ...text, '## Used in many places\n', ...shared].join('\n');
}
