import type { z } from 'zod';
import { coreOf, defOf, metaOf, type Any } from './schema.ts';

type CheckDef = z.core.$ZodChecks['_zod']['def'] | z.core.$ZodCustomDef;

/** Names of units by the ends of field names, the longest first. */
const UNITS: readonly (readonly [RegExp, string])[] = [
  [/MilliohmPerM$/, 'mΩ/m'],
  [/gramsPerM$/, 'g/m'],
  [/Mm2$/, 'mm²'],
  [/Mm$|^mm$/, 'mm'],
  [/Percent$|^percent$/, '%'],
  [/Millivolts$/, 'mV'],
  [/Voltage$/, 'V'],
  [/Amps$|^amps$/, 'A'],
  [/Ohm$/, 'Ω'],
  [/Inch$/, 'in'],
  [/Days$/, 'days'],
  [/Seconds$/, 's'],
  [/Deg$/, '°'],
  [/TemperatureC$|MaxC$/, '°C'],
  [/[a-z]G$/, 'g'],
];

function unitOf(field: string): string {
  const unit = UNITS.find(([ending]) => ending.test(field))?.[1];
  return unit === undefined ? '' : ` ${unit}`;
}

/** More of them make a table hard to read. */
const MOST_CHOICES = 12;

/** Named schemas of one value that have a section of their own. */
const OWN_SECTION = ['LabourOperation', 'Code', 'Shade', 'CableType'];

/** The section that a schema's values are described in; undefined where the table says it all. */
export function sectionOf(schema: Any): string | undefined {
  const core = coreOf(schema);
  const { id } = metaOf(core);
  if (id === undefined) return undefined;
  const { type } = defOf(core);
  return type === 'object' || type === 'union' || OWN_SECTION.includes(id) ? id : undefined;
}

/** What a field takes, in words; of a named thing a link to its section. */
export function takesText(schema: Any, field: string, linkOf: (id: string) => string): string {
  const section = sectionOf(schema);
  return section === undefined ? plainText(schema, field, linkOf) : linkOf(section);
}

/** The same without a look at its name. Throws Error at a kind of value that the model has not used by now. */
export function plainText(schema: Any, field: string, linkOf: (id: string) => string): string {
  const core = coreOf(schema);
  const def = defOf(core);
  if (def.type === 'string') return stringText(core);
  if (def.type === 'number') return numberText(core, unitOf(field));
  if (def.type === 'boolean') return '`true` or `false`';
  if (def.type === 'enum') return choicesText(Object.values(def.entries).map(String));
  if (def.type === 'literal') return choicesText(def.values.map(String));
  if (def.type === 'array')
    return `list${itemsText(core)}: ${takesText(def.element, field.replace(/s$/, ''), linkOf)}`;
  if (def.type === 'object') return 'in braces, the fields below';
  if (def.type === 'union') return 'in braces, one of the fields below';
  throw new Error(`no words for what a ${def.type} takes: add them here`);
}

function choicesText(choices: readonly string[]): string {
  if (choices.length > MOST_CHOICES)
    throw new Error(`${choices.length} choices ask for a section of their own`);
  return choices.map((choice) => `\`${choice}\``).join(', ');
}

function checksOf(schema: Any): CheckDef[] {
  return (defOf(schema).checks ?? []).map((check) => check._zod.def as CheckDef);
}

/** What a check says where it fails, as what it asks for: "a percentage has at most 4 decimals" asks for at most 4 decimals. */
function asks(check: CheckDef): string[] {
  const said = check.error?.({} as never);
  if (typeof said !== 'string') return [];
  return [said.replace(/^an? \w+ (has|is) /, '')];
}

function stringText(schema: Any): string {
  const def = defOf(schema);
  const format = 'format' in def ? String(def.format) : '';
  const known = { date: 'day, YYYY-MM-DD', email: 'e-mail address', url: 'web address' }[format];
  const limits = checksOf(schema).flatMap((check) => {
    if (check.check === 'max_length') return [`at most ${grouped(check.maximum)} characters`];
    if (check.check === 'min_length') return check.minimum === 1 ? ['not empty'] : [];
    // What else is checked says what is wrong, not what is asked for.
    return check.check === 'string_format' ? asks(check) : [];
  });
  return [known ?? 'text', ...limits].join('; ');
}

function numberText(schema: Any, unit: string): string {
  const def = defOf(schema);
  const isWhole = 'format' in def && def.format === 'safeint';
  const checks = checksOf(schema);
  const above = checks.flatMap((check) => (check.check === 'greater_than' ? [check] : []));
  const below = checks.flatMap((check) => (check.check === 'less_than' ? [check] : []));
  // Only the narrowest limit of either side says anything.
  const [low] = above.sort((a, b) => Number(b.value) - Number(a.value));
  const [high] = below.sort((a, b) => Number(a.value) - Number(b.value));
  const limits = [
    ...(low ? [`${low.inclusive ? 'at least' : 'more than'} ${grouped(low.value)}`] : []),
    ...(high ? [`${high.inclusive ? 'at most' : 'less than'} ${grouped(high.value)}`] : []),
    ...checks.flatMap((check) => (check.check === 'custom' ? asks(check) : [])),
  ];
  return [`${isWhole ? 'whole number' : 'number'}${unit && `,${unit}`}`, ...limits].join('; ');
}

function itemsText(schema: Any): string {
  const limits = checksOf(schema).flatMap((check) => {
    if (check.check === 'max_length') return [`at most ${grouped(check.maximum)}`];
    return check.check === 'min_length' ? [`at least ${check.minimum}`] : [];
  });
  return limits.length === 0 ? '' : ` (${limits.join(', ')})`;
}

/** 1000000 as "1,000,000" */
function grouped(value: unknown): string {
  const [whole = '', ...decimals] = String(value).split('.');
  return [whole.replace(/\B(?=(\d{3})+$)/g, ','), ...decimals].join('.');
}
