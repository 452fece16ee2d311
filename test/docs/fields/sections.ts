import { SETTING_NAMES } from '../../../worker/engine/model/settings.ts';
import { shortFormOf } from '../../../worker/engine/model/short/form.ts';
import { rowsOf, shortText, type Row, type Surroundings } from './rows.ts';
import { coreOf, defOf, fieldsOf, metaOf, shapesOf, tellsApart, wordOf, type Any } from './schema.ts';
import { plainText, sectionOf } from './takes.ts';
import { sectionWords } from './words.ts';

/** What the page has told by now. */
export interface Told {
  done: Set<string>;
  /** Named things that are used in many places, for the end of the page. */
  waiting: Any[];
  /** Fields without words. */
  missing: string[];
}

/** Sections of what stands in many places; all others follow what they are a part of. */
const SHARED = ['CableType', 'Code', 'Colour', 'Money', 'Price', 'Settings', 'Shade', 'Size', 'WireColour'];

const TITLES: Readonly<Record<string, string>> = {
  BuildOrBuyRequest: 'Build or buy',
  BuildingExtra: 'Extra for building',
  ClubTerms: 'Club',
  LoomFitting: 'Fitting of a loom',
  PartUse: 'Part used',
  QuoteRequest: 'Request',
  StandsInFor: 'What it stands in for',
  StockItem: 'Stock',
  WireLength: 'Length of a wire or cable',
};

/** "SpareJoinRule" as "Spare join rule". */
export function titleOf(id: string): string {
  const words = id.replaceAll(/(?<=[a-z])[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
  return TITLES[id] ?? words;
}

export const slugOf = (title: string) => title.toLowerCase().replaceAll(' ', '-');

/** The section of a named schema, and of the named things that stand in it alone. */
export function sectionText(
  schema: Any,
  depth: number,
  told: Told,
  around: Surroundings,
  top: ReadonlySet<Any>,
): string[] {
  const id = sectionOf(schema) ?? '';
  if (told.done.has(id)) return [];
  told.done.add(id);
  const { description } = metaOf(coreOf(schema));
  const forms = shortText(shortFormOf(coreOf(schema))?.examples);
  const head = [
    `${'#'.repeat(depth)} ${titleOf(id)}\n`,
    ...[description ?? sectionWords(id)].map((words) => `${words}\n`),
    ...(forms ? [`Or short: ${forms}.\n`] : []),
  ];
  const inside = namedIn(schema).flatMap((named) => {
    const name = sectionOf(named) ?? '';
    if (top.has(coreOf(named))) return [];
    if (!SHARED.includes(name)) return sectionText(named, 3, told, around, top);
    if (!told.waiting.some((each) => sectionOf(each) === name)) told.waiting.push(coreOf(named));
    return [];
  });
  return [...head, ...bodyText(id, schema, depth, told, around), ...inside];
}

function bodyText(id: string, schema: Any, depth: number, told: Told, around: Surroundings): string[] {
  const core = coreOf(schema);
  const { type } = defOf(core);
  const table = (section: string, object: Any, fields: [string, Any][]) => {
    const rows = rowsOf(section, object, fields, around);
    told.missing.push(...rows.filter(({ what }) => what === '').map(({ field }) => `${section}.${field}`));
    return tableText(rows);
  };
  if (id === 'ClubSettings') {
    const own = fieldsOf(core).filter(([name]) => !SETTING_NAMES.some((setting) => setting === name));
    return ['All fields of [settings](#settings), and:\n', table(id, core, own)];
  }
  if (type === 'object') return [table(id, core, fieldsOf(core))];
  if (type === 'enum') return [`One of: ${enumText(core)}.\n`];
  if (type !== 'union') return [`Takes: ${plainText(core, '', around.linkOf)}.\n`];
  const [by, shapes] = [tellsApart(core), shapesOf(core)];
  const [first] = shapes;
  const shared = first
    ? fieldsOf(first).filter(([name, field]) => shapes.every((shape) => holds(shape, name, field)))
    : [];
  const names = new Set(shared.map(([name]) => name));
  const heading = (shape: Any, index: number) =>
    by === undefined
      ? index === 0
        ? 'Either:'
        : 'Or:'
      : `${'#'.repeat(depth + 1)} ${titleOf(id)}: ${wordOf(shape, by)}`;
  return [
    ...(by === undefined
      ? []
      : [
          `\`${by}\` says which of these it is: ${shapes.map((shape) => `\`${wordOf(shape, by)}\``).join(', ')}.\n`,
        ]),
    ...(first && shared.length > 0 ? ['In each of them:\n', table(id, first, shared)] : []),
    ...shapes.flatMap((shape, index) => {
      const own = fieldsOf(shape).filter(([name]) => !names.has(name) && name !== by);
      const section = by === undefined ? id : `${id} ${wordOf(shape, by)}`;
      const words = own.length > 0 ? table(section, shape, own) : 'No other fields.\n';
      return [`${heading(shape, index)}\n`, words];
    }),
  ];
}

const holds = (shape: Any, name: string, field: Any) =>
  fieldsOf(shape).some(([other, same]) => other === name && same === field);

function enumText(schema: Any): string {
  const def = defOf(schema);
  return def.type === 'enum'
    ? Object.values(def.entries)
        .map((choice) => `\`${choice}\``)
        .join(', ')
    : '';
}

/** The named things in a schema's fields, in order, those in things without a name too. */
function namedIn(schema: Any): Any[] {
  const core = coreOf(schema);
  const def = defOf(core);
  const inner =
    def.type === 'array'
      ? [def.element]
      : def.type === 'union'
        ? shapesOf(core)
        : fieldsOf(core).map(([, field]) => field);
  return inner.flatMap((each) => (sectionOf(each) === undefined ? namedIn(each) : [each]));
}

function tableText(rows: readonly Row[]): string {
  const line = (cells: readonly string[]) =>
    `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  const head = ['field', 'takes', 'needed', 'default', 'what it is', 'example'];
  return `${[
    line(head),
    line(head.map(() => '---')),
    ...rows.map(({ field, takes, needed, fallback, what, example }) =>
      line([`\`${field}\``, takes, needed, fallback, what, example]),
    ),
  ].join('\n')}\n`;
}
