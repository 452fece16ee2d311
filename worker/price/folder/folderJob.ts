import { basename, resolve } from 'node:path';
import { byCode } from '../../engine/model/code.ts';
import { partCodesIn, withPartsMeant } from '../../engine/model/didYouMean.ts';
import { faultsOf } from '../../engine/model/faults.ts';
import type { Finding } from '../../engine/model/finding.ts';
import { Job } from '../../engine/model/job.ts';
import { readJob } from '../../engine/model/upgrade.ts';
import { counted } from '../../sheets/amounts.ts';
import { inTable, pathOf } from '../../tables/check.ts';
import { isFields, type Column, type Fields } from '../../tables/column.ts';
import { tableFault, type TableFault } from '../../tables/tableFault.ts';
import { fileOf, TABLE_NAMES, tableOf } from '../../tables/tables.ts';
import { ABOUT, entryAt } from './about.ts';
import { assemble, type Assembled } from './assemble.ts';
import { inWords, folderWords, type InWords } from './folderWords.ts';
import { folderSpeech, AS_GIVEN, type Speech } from './speech.ts';
import { NotWorkable, type Folders, type Starter } from './files.ts';
import { doubtsOf } from './doubts.ts';
import { missingFiles } from './missingFiles.ts';
import { addPoints, partsMissing, rings, terminalsToLookUp } from './inferred.ts';
import { isOurs, readFolder, REST, type FolderContent } from './readFolder.ts';

export interface FolderJob {
  /** The job's document; it can be worked where there are no faults. */
  readonly document: Fields;
  readonly job: Job | undefined;
  readonly faults: readonly Finding[];
  /** What came into being or was taken for granted, a sentence each. */
  readonly notes: readonly string[];
  /** Says what is told of the job in the words of the folder: its files, rows and columns. */
  readonly speech: Speech;
  /** How many rows each table has. */
  readonly counts: readonly (readonly [file: string, rows: number])[];
}

/** Reads a folder of tables as a job, with all that is wrong in any of them. Throws NotWorkable where there is no table in it. */
export async function readFolderJob(
  folder: string,
  names: readonly string[],
  files: Folders,
  asOf?: string,
): Promise<FolderJob> {
  if (!names.some(isOurs))
    throw new NotWorkable(
      `There is no table in ${folder}. It needs wires.csv, suppliers.csv and offers.csv at least; npm run price -- --template ${folder} writes empty ones.`,
    );
  const content = await readFolder(folder, names, files);
  const assembled = assemble(content, { folder: basename(resolve(folder)), asOf, today: files.today() });
  const completed = await complete(assembled, files);
  const notes = [...assembled.notes, ...completed.notes];
  if (content.unread.length > 0) notes.push(`Not read: ${content.unread.join(', ')}.`);
  const { document } = assembled;
  const read = readJob(document);
  const known = () => new Set([...partCodesIn(document), ...partCodesIn(completed.starter)]);
  const lacking = missingFiles(content, names);
  const cells = [...content.faults, ...lacking.faults, ...assembled.faults];
  const say = folderWords(content, assembled);
  const faults = inOrder([
    ...cells.map(({ finding }) => inWords(finding, say)),
    ...(read.success
      ? []
      : others(withPartsMeant(faultsOf(read.error, document, Job), known), {
          content,
          assembled,
          cells,
          say,
        }).filter(({ code }) => !(code === 'unknown-supplier' && lacking.missing.has('suppliers')))),
  ]);
  const job = faults.length === 0 && read.success ? read.data : undefined;
  return {
    document,
    job,
    faults,
    speech: job ? folderSpeech(say, job, assembled) : AS_GIVEN,
    notes: [...notes, ...(job ? doubtsOf(job) : [])],
    counts: [...content.tables].map(([name, rows]) => [`${name}.csv`, rows.length] as const),
  };
}

/** Adds the points and the parts that are named and entered nowhere; the starter catalogue comes back where it was asked. */
async function complete(
  assembled: Assembled,
  files: Folders,
): Promise<{ notes: string[]; starter?: Starter }> {
  const { document } = assembled;
  const notes: string[] = [];
  let starter: Starter | undefined;
  if (terminalsToLookUp(assembled)) starter = await files.starter();
  const ringCodes = rings([...document.parts, ...(starter?.parts ?? [])]);
  for (const loom of document.looms) {
    const made = addPoints(loom, ringCodes);
    if (made.length > 0)
      notes.push(
        `Points of ${String(loom['code'])} that are only named: ${made.map(({ id, kind }) => `${id} (${kind})`).join(', ')}. To say more of one, enter it in points.csv.`,
      );
  }
  const missing = partsMissing(document);
  if (missing.length === 0) return { notes };
  starter ??= await files.starter();
  const starterOf = new Map(starter.parts.filter(isFields).map((part) => [part['code'], part]));
  const taken = missing.filter((code) => starterOf.has(code)).sort(byCode);
  if (taken.length === 0) return { notes, starter };
  const had = new Set(document.parts.filter(isFields).map(({ code }) => code));
  const known = fieldsIn(starter.fits);
  const covers = coversFor(taken, starterOf, known).filter((code) => !had.has(code));
  const all = [...taken, ...covers];
  document.parts = [...document.parts, ...all.map((code) => starterOf.get(code))];
  const fits = fitsAmong(new Set(all), known, fieldsIn(document['fits']));
  if (fits.length > 0) document['fits'] = [...fieldsIn(document['fits']), ...fits];
  notes.push(
    `Parts taken from the starter catalogue: ${taken.join(', ')}. To change one, enter it in parts.csv.`,
  );
  if (covers.length > 0)
    notes.push(
      `Covers taken with them: ${covers.join(', ')}. A cover is bought only where an end of a wire names it.`,
    );
  if (fits.length > 0) notes.push(`Taken with these parts: ${counted(fits.length, 'fit')} between them.`);
  return { notes, starter };
}

type Catalogue = ReadonlyMap<unknown, Fields>;

/** The covers for blades and bullets among these parts: the checks tell of one that has none, where they know a cover for it. */
function coversFor(taken: readonly string[], catalogue: Catalogue, fits: readonly Fields[]): string[] {
  const open = new Set<unknown>(
    taken.filter((code) => ['blade', 'bullet'].includes(String(catalogue.get(code)?.['terminalType']))),
  );
  const covers = fits
    .filter(({ relation, to }) => relation === 'covers' && open.has(to))
    .flatMap(({ from }) => (typeof from === 'string' && catalogue.has(from) ? [from] : []));
  return [...new Set(covers)].filter((code) => !taken.includes(code)).sort(byCode);
}

/** What the starter catalogue knows of how parts that are taken from it go together; what the folder says of two goes before. */
function fitsAmong(taken: ReadonlySet<unknown>, fits: readonly Fields[], own: readonly Fields[]): Fields[] {
  const said = new Set(own.map(pairOf));
  return fits.filter((fit) => taken.has(fit['from']) && taken.has(fit['to']) && !said.has(pairOf(fit)));
}

/** Two parts and the relation between them; of mates either way round. */
function pairOf({ from, relation, to }: Fields): string {
  const pair = relation === 'mates' ? [String(from), String(to)].sort(byCode) : [from, to];
  return JSON.stringify([relation, ...pair]);
}

const fieldsIn = (list: unknown): Fields[] =>
  (Array.isArray(list) ? (list as unknown[]) : []).filter(isFields);

interface Read {
  content: FolderContent;
  assembled: Assembled;
  cells: readonly TableFault[];
  say: InWords;
}

/** What the job's schema has found, at the cells that it comes from; without what was told of these cells or rows already. */
function others(findings: readonly Finding[], read: Read): Finding[] {
  const { content, cells, say } = read;
  const told = new Set(cells.map((fault) => keyOf(fault)));
  const wholeRows = new Set(cells.filter(({ column }) => column === undefined).map((fault) => keyOf(fault)));
  const missing = new Set(
    cells.filter(({ finding }) => finding.code === 'missing-column').map(fileAndColumn),
  );
  return findings.flatMap((finding) => {
    // What a table that was not read to its end may still hold is not missed.
    if (content.cutShort.size > 0 && isOfName(finding.code)) return [];
    const fault = placed(finding, read);
    const about = aboutOf(finding);
    if (!fault) return [inWords({ ...finding, where: say(finding.where, about) }, say, about)];
    if (isGuessed(content, fault)) return [];
    if (told.has(keyOf(fault)) || missing.has(fileAndColumn(fault))) return [];
    // A column that is not there is missed once, not in each row.
    if (finding.code === 'missing-field' && fault.finding.found === 'no such column')
      missing.add(fileAndColumn(fault));
    return wholeRows.has(keyOf({ ...fault, column: undefined })) ? [] : [inWords(fault.finding, say, about)];
  });
}

/** The table and the loom that a fault of the job is of. */
function aboutOf({ at }: Finding) {
  const [first = '', second, third] = pathOf(at);
  const isOfLoom = first === 'looms';
  const list = isOfLoom ? third : first;
  const table = TABLE_NAMES.find((name) => tableOf(name).list === list && tableOf(name).ofLooms === isOfLoom);
  return { table, ...(isOfLoom ? { loom: Number(second) } : {}) };
}

/** Whether a name of a column was refused that may mean the column of this fault. */
function isGuessed({ tables }: FolderContent, fault: TableFault): boolean {
  return TABLE_NAMES.some((name) => {
    const guessed = tables.get(name)?.[0]?.layout.guessed;
    return (
      guessed !== undefined &&
      fileOfFault(fault) === fileOf(name) &&
      [...guessed].some((column) => column.name === fault.column)
    );
  });
}

/** Whether something is named that is not there. */
const isOfName = (code: string) => /^(unknown|missing)-(?!field|column)/.test(code);

type Key = { row?: number | undefined; column?: string | undefined; finding: Finding };

const fileOfFault = ({ finding }: Key) => finding.where.split(', ')[0] ?? '';
const keyOf = (fault: Key) => JSON.stringify([fileOfFault(fault), fault.row, fault.column]);
const fileAndColumn = (fault: Key) => JSON.stringify([fileOfFault(fault), fault.column]);

function placed(finding: Finding, { content, assembled }: Read): TableFault | undefined {
  const path = pathOf(finding.at);
  for (let length = path.length - 1; length > 0; length--) {
    const origins = assembled.origins.get(path.slice(0, length).join('/'));
    if (!origins) continue;
    const origin = origins[Number(path[length])];
    return origin && inTable(origin.layout, origin, finding, path.slice(length + 1));
  }
  const place = path[0] === 'looms' && path[1] === '0' ? ['loom', ...path.slice(2)] : path;
  const entry: Column | undefined = entryAt(place);
  const row = entry && content.about.rows.get(entry);
  if (row !== undefined) return tableFault(ABOUT, { row, column: 'value' }, worded(finding));
  if (Object.hasOwn(content.rest, path[0] ?? ''))
    return tableFault(REST, {}, { ...worded(finding), found: `${finding.where}: ${finding.found}` });
  return undefined;
}

const worded = ({ code, found, limit, todo }: Finding) => ({
  code,
  found,
  ...(limit === undefined ? {} : { limit }),
  todo,
});

/** By file and row, as a person goes through them; what is of no row comes first. */
function inOrder(faults: readonly Finding[]): Finding[] {
  const files = new Map<string, number>(TABLE_NAMES.map((name, at) => [fileOf(name), at]));
  const place = ({ where }: Finding) => {
    const [file = '', row = ''] = where.split(', ');
    return [files.get(file) ?? TABLE_NAMES.length, Number(/^row (\d+)$/.exec(row)?.[1] ?? 0)] as const;
  };
  return faults
    .map((fault) => ({ fault, place: place(fault) }))
    .sort((a, b) => a.place[0] - b.place[0] || a.place[1] - b.place[1])
    .map(({ fault }) => fault);
}
