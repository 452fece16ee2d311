import { shortFormOf } from '../../../worker/engine/model/short/form.ts';
import { Code, Name, Note } from '../../../worker/engine/model/code.ts';
import { coreOf, defOf, fieldsOf, layersOf, metaOf, shapesOf, type Any } from './schema.ts';
import type { Samples } from './samples.ts';
import { sectionOf, takesText } from './takes.ts';

/** What is shared by fields of all sorts: its example is of none of them. */
const OF_NO_FIELD: readonly Any[] = [Code, Name, Note];

/** One field as the table says it. */
export interface Row {
  field: string;
  takes: string;
  needed: string;
  fallback: string;
  what: string;
  example: string;
}

/** What a table is made with. */
export interface Surroundings {
  samples: Samples;
  linkOf: (id: string) => string;
  /** Words for a field of which its schema has none. */
  wordsOf: (section: string, field: string) => string | undefined;
  /** The default of a field that its schema does not state itself. */
  defaultOf: (section: string, field: string) => string | undefined;
}

type Field = [name: string, field: Any];

/** A row for each field, and below it one for each field of an object without a name of its own. */
export function rowsOf(section: string, object: Any, fields: readonly Field[], around: Surroundings): Row[] {
  return fields.flatMap(([name, field]) => fieldRows(section, object, name, field, '', around));
}

function fieldRows(
  section: string,
  object: Any,
  name: string,
  field: Any,
  before: string,
  around: Surroundings,
): Row[] {
  const path = `${before}${name}`;
  const row = {
    field: path,
    takes: takesText(field, name, around.linkOf),
    needed: isNeeded(field) ? 'yes' : 'no',
    fallback: around.defaultOf(section, path) ?? defaultText(field),
    what: whatOf(field) ?? around.wordsOf(section, path) ?? '',
    example: exampleOf(field, around.samples.of(object, name)),
  };
  return [row, ...insideRows(section, field, path, around)];
}

function insideRows(section: string, field: Any, path: string, around: Surroundings): Row[] {
  const core = coreOf(field);
  if (sectionOf(core) !== undefined) return [];
  const def = defOf(core);
  if (def.type === 'array') return insideRows(section, def.element, `${path}[]`, around);
  if (def.type === 'union')
    return shapesOf(core).flatMap((shape) =>
      insideRows(section, shape, path, around).map((row) => ({ ...row, needed: 'one of them' })),
    );
  return fieldsOf(core).flatMap(([name, inner]) => fieldRows(section, core, name, inner, `${path}.`, around));
}

function isNeeded(field: Any): boolean {
  return !layersOf(field).some((layer) => ['optional', 'default'].includes(defOf(layer).type));
}

function defaultText(field: Any): string {
  for (const layer of layersOf(field)) {
    const def = defOf(layer);
    if (def.type === 'default') return code(JSON.stringify(def.defaultValue));
  }
  return '';
}

/** The words of the field itself; those of a thing with a section of its own stand there. */
function whatOf(field: Any): string | undefined {
  const core = coreOf(field);
  const own = layersOf(field).filter((layer) => layer !== core || sectionOf(core) === undefined);
  return own.map((layer) => metaOf(layer).description).find((words) => words !== undefined);
}

function exampleOf(field: Any, sample: string | undefined): string {
  const layers = layersOf(field);
  const stated = layers
    .filter((layer) => !OF_NO_FIELD.includes(layer))
    .map((layer) => metaOf(layer).example)
    .find((example) => example !== undefined);
  const isChoice = ['enum', 'literal', 'boolean'].includes(defOf(coreOf(field)).type);
  const example = sample ?? (stated === undefined ? undefined : JSON.stringify(stated));
  const short = layers
    .map((layer) => shortText(shortFormOf(layer)?.examples))
    .find((text) => text !== undefined);
  return [
    ...(example === undefined || isChoice ? [] : [code(example)]),
    ...(short ? [`or short: ${short}`] : []),
  ].join(', ');
}

/** The short ways of writing a value. */
export function shortText(forms: readonly string[] | undefined): string | undefined {
  return forms?.map((form) => code(form)).join(' or ');
}

export const code = (text: string) => `\`${text}\``;
