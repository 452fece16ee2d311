import { nearestName } from '../nearest.ts';
import { OPERATION_NAMES, type LabourRule, type Operation } from '../labour.ts';
import { isWrong, several, wrong, type Reading, type ShortContext, type ShortForm } from './form.ts';
import { decimalOf, decimalText, entriesOf } from './numbers.ts';

/** Minutes of operations: "crimping 0.8, taking off 2". */
export const labourForm: ShortForm = { examples: ['crimping 0.8, taking off 2'], read: readRules };

function readRules(given: string, context: ShortContext): Reading {
  const rules: unknown[] = [];
  for (const entry of entriesOf(given, context).filter((text) => text !== '')) {
    const reading = readRule(entry, context);
    if (isWrong(reading)) return reading;
    rules.push(reading.value);
  }
  return { value: rules };
}

function readRule(entry: string, context: ShortContext): Reading {
  const match = /^([A-Za-z][A-Za-z ]*?)[:\s]\s*(-?[\d.,]+)\s*(?:min|minutes)?$/.exec(entry);
  const [, name = '', digits = ''] = match ?? [];
  if (!match)
    return wrong(`An operation and its minutes are written as in "crimping 0.8"; "${entry}" is not`);
  if (digits.startsWith('-'))
    return wrong(`Minutes are not negative; "${entry}" has negative minutes. Give 0 or more`);
  const operation = operationNamed(name);
  if (!operation) {
    const nearest = nearestName(name, OPERATION_NAMES);
    return {
      code: 'not-one-of',
      todo: `There is no operation "${name}".${nearest === undefined ? '' : ` If ${nearest} is meant, write that.`} The operations are ${OPERATION_NAMES.join(', ')}`,
    };
  }
  const minutes = decimalOf(digits, context);
  if (minutes === undefined) return wrong(`Minutes are written as in "0.8"; "${digits}" is no number`);
  if (typeof minutes !== 'string')
    return several(
      entry,
      minutes.several.map((each) => `${name} ${decimalText(each, context)}`),
    );
  return { value: { operation, minutes: Number(minutes) } satisfies LabourRule };
}

/** "taking off", "Taking-off" and "takingOff" are one name. */
function operationNamed(text: string): Operation | undefined {
  const plain = text.replaceAll(/\s/g, '').toLowerCase();
  return OPERATION_NAMES.find((name) => name.toLowerCase() === plain);
}
