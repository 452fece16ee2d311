import type { Fields } from '../../tables/column.ts';
import { shown, tableFault, type TableFault } from '../../tables/tableFault.ts';
import { fileOf } from '../../tables/tables.ts';
import type { FolderContent } from './readFolder.ts';

/** Tables without which nothing can be priced, and what files are often called that hold the same. */
const NEEDED = {
  suppliers: /suppl|shop|seller|vendor|dealer/i,
  offers: /offer|price|quote|cost/i,
} as const;

const SAYS = {
  suppliers: 'It says who sells, one row a supplier.',
  offers: 'It says what each part costs, one row a price.',
} as const;

type Needed = keyof typeof NEEDED;

/**
 * A fault for each table that the folder lacks, and that rest.json has not either: the offers, and the suppliers where offers
 * name any. A file of nearly its name was told of already.
 */
export function missingFiles(
  { tables, rest, faults }: FolderContent,
  names: readonly string[],
): { missing: ReadonlySet<Needed>; faults: TableFault[] } {
  const lacks = (name: Needed) =>
    !tables.has(name) && !(Array.isArray(rest[name]) && (rest[name] as unknown[]).length > 0);
  const offers = [
    ...(tables.get('offers') ?? []).map(({ document }): unknown => document),
    ...(Array.isArray(rest['offers']) ? (rest['offers'] as unknown[]) : []),
  ];
  const namesSuppliers = offers.some((offer) => (offer as Fields | null)?.['supplier'] !== undefined);
  const missing = new Set<Needed>();
  if (namesSuppliers && lacks('suppliers')) missing.add('suppliers');
  if (lacks('offers')) missing.add('offers');
  const misnamed = (name: Needed) =>
    faults.some(({ finding: { code, todo } }) => code === 'unknown-file' && todo.includes(fileOf(name)));
  return {
    missing,
    faults: [...missing].filter((name) => !misnamed(name)).map((name) => fault(name, names)),
  };
}

function fault(name: Needed, names: readonly string[]): TableFault {
  const file = fileOf(name);
  const alike = names.find(
    (each) => each !== file && NEEDED[name].test(each) && /\.(csv|txt|tsv)$/i.test(each),
  );
  const sheet = names.find((each) => NEEDED[name].test(each) && /\.(xlsx?|ods|numbers)$/i.test(each));
  return tableFault(
    file,
    {},
    {
      code: 'missing-file',
      found: 'no such file',
      todo:
        alike !== undefined
          ? `If ${shown(alike)} is this table, rename it ${file}. ${SAYS[name]}`
          : sheet !== undefined
            ? `If ${shown(sheet)} is this table, save it as “CSV UTF-8” and name it ${file}. ${SAYS[name]}`
            : `Add ${file} to the folder. ${SAYS[name]} npm run price -- --template FOLDER writes an empty one.`,
    },
  );
}
