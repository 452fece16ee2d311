import { inStored } from '../../engine/job/asStored.ts';
import { normaliseJob } from '../../engine/job/normalise.ts';
import { fitKey } from '../../engine/model/fit.ts';
import type { Job } from '../../engine/model/job.ts';
import { columnHolding, pathOf } from '../../tables/check.ts';
import { TABLE_NAMES, tableOf, type TableName } from '../../tables/tables.ts';
import type { Assembled } from './assemble.ts';

/** Where in a folder something stands. */
export interface FolderPlace {
  readonly table: TableName;
  /** "wires.csv, row 4, column amps" */
  readonly words: string;
}

/**
 * Finds what a pointer into the job as it was worked leads to in the tables of its folder. Undefined of what came into being
 * without a row.
 */
export function workedPlaces(
  job: Job,
  { origins }: Pick<Assembled, 'origins'>,
): (at: string) => FolderPlace | undefined {
  const worked = normaliseJob(job);
  const given = givenPlaces(worked, job);
  return (at) => {
    const path = pathOf(given(at));
    const isOfLoom = path[0] === 'looms';
    const [list = '', index = '', ...within] = isOfLoom ? path.slice(2) : path;
    const key = isOfLoom ? `looms/${path[1] ?? ''}/${list}` : list;
    const row = origins.get(key)?.[Number(index)];
    const table = TABLE_NAMES.find(
      (name) => tableOf(name).list === list && tableOf(name).ofLooms === isOfLoom,
    );
    if (!row || !table) return undefined;
    const column = columnHolding(row.layout, row.document, within);
    const words = [row.layout.file, `row ${row.row}`, ...(column ? [`column ${column.name}`] : [])].join(
      ', ',
    );
    return { table, words };
  };
}

/** Turns a pointer into a job as it is worked into one into the job as it was given; '' where that has no such thing. */
function givenPlaces(worked: Job, job: Job): (at: string) => string {
  const codeOf = ({ code }: { code: string }) => code;
  const places = new Map<string, readonly number[]>([
    ['parts', placesIn(worked.parts, job.parts, codeOf)],
    ['suppliers', placesIn(worked.suppliers, job.suppliers, codeOf)],
    ['offers', placesIn(worked.offers, job.offers, codeOf)],
    ['stock', placesIn(worked.stock, job.stock, codeOf)],
    ['rates', placesIn(worked.rates, job.rates, codeOf)],
    ['lanes', placesIn(worked.lanes, job.lanes, codeOf)],
    ['fits', placesIn(worked.fits, job.fits, fitKey)],
    ['looms', placesIn(worked.looms, job.looms, codeOf)],
  ]);
  const looms = worked.looms.map((loom, index) => {
    const stored = job.looms[places.get('looms')?.[index] ?? -1];
    return stored ? inStored(loom, stored) : () => '';
  });
  return (at) => {
    const [, list = '', index = '', rest = ''] = /^\/([^/]+)\/(\d+)(.*)$/.exec(at) ?? [];
    const place = places.get(list)?.[Number(index)];
    if (place === undefined || place < 0) return '';
    return `/${list}/${place}${list === 'looms' ? (looms[Number(index)]?.(`/looms/0${rest}`) ?? '') : rest}`;
  };
}

function placesIn<T>(worked: readonly T[], given: readonly T[], keyOf: (item: T) => string): number[] {
  const places = new Map(given.map((item, index) => [keyOf(item), index]));
  return worked.map((item) => places.get(keyOf(item)) ?? -1);
}
