import type { Size } from '../size.ts';
import { several, wrong, type Reading, type ShortContext, type ShortForm } from './form.ts';
import { decimalOf } from './numbers.ts';

/**
 * A strand under this is in inches, one of this or above 0.1 in millimetres; between them stand both 0.07 mm (extra
 * flexible) and .064 inch (16 SWG), so that such a text must say which. Common practice, no source.
 */
const SURELY_INCHES_BELOW = 0.05;
const SURELY_MM_FROM = 0.1;
/** No strand of a cable is thicker, whether in inches or in millimetres. */
const LARGEST_STRAND = 5;

const EXAMPLES = ['44/0.30', '14/.012', '1.5 mm²', '16 AWG', 'SAE 16'] as const;
const GAUGE = String.raw`(\d{1,2}|[1-4]/0)`;

/** A size as it is marked or said: "44/0.30", "14/.012", "1.5 mm²", "16 AWG", "SAE 16". */
export const sizeForm: ShortForm = { examples: EXAMPLES, read: readSize };

function readSize(given: string, context: ShortContext): Reading {
  const text = given.trim().replace(/\s+/g, ' ');
  return (
    measured(text, context) ??
    stranded(text, context) ??
    gauge(text) ??
    area(text, context) ??
    wrong(
      `A size is written as ${EXAMPLES.map((each) => `"${each}"`).join(', ')}; "${given}" is none of these${guess(text, context)}`,
    )
  );
}

/** What was most likely meant by a text that is no size: "44-0.30", "1.5mm", "44/0.30 pvc". */
function guess(text: string, context: ShortContext): string {
  const inner = /\d+ ?[/x×*:-] ?[\d.,]+/.exec(text)?.[0].replace(/ ?[*:-] ?/, '/');
  const plain = /[\d.,]*\d/.exec(text)?.[0];
  const tries = [inner, plain === undefined ? undefined : `${plain} mm²`];
  const meant = tries.find(
    (each) => each !== undefined && [stranded, area].some((read) => isValue(read(each, context))),
  );
  return meant === undefined ? '' : `. If "${meant}" is meant, write that`;
}

const isValue = (reading: Reading | undefined) => reading !== undefined && 'value' in reading;

/** "14 strands of 0.3 mm, measured" */
function measured(text: string, context: ShortContext): Reading | undefined {
  const match = /^(\d+) strands of ([\d.,]+) ?mm(, ?measured)?$/i.exec(text);
  const strand = match && decimalOf(match[2] ?? '', context);
  if (!match || typeof strand !== 'string') return undefined;
  return size({ system: 'measuredStrands', strands: Number(match[1]), strandMm: Number(strand) });
}

/** "44/0.30", "14/.012", "44 x 0.30 mm" */
function stranded(text: string, context: ShortContext): Reading | undefined {
  const match = /^(\d+) ?[/x×] ?([\d.,]+) ?(mm|in|inch|")?$/i.exec(text);
  if (!match || /^[1-4]\/0$/.test(text)) return undefined;
  const strands = Number(match[1]);
  const strand = decimalOf(match[2] ?? '', context);
  if (strand === undefined) return undefined;
  if (typeof strand !== 'string')
    return several(
      text,
      strand.several.map((each) => `${strands}/${each}`),
    );
  const thickness = Number(strand);
  const metric = size({ system: 'metricStrands', strands, strandMm: thickness });
  const imperial = size({ system: 'imperialStrands', strands, strandInch: thickness });
  if (match[3] !== undefined) return match[3].toLowerCase() === 'mm' ? metric : imperial;
  // "14/012": the point is missing.
  if (thickness > LARGEST_STRAND) return several(text, [`${strands}/.${match[2] ?? ''}`]);
  if (thickness < SURELY_INCHES_BELOW) return imperial;
  if (thickness >= SURELY_MM_FROM) return metric;
  return several(text, [`${strands}/${thickness} mm`, `${strands}/${inches(thickness)} in`]);
}

const inches = (value: number) => String(value).replace(/^0/, '');

/** "16 AWG", "AWG 2/0", "SAE 16" */
function gauge(text: string): Reading | undefined {
  const match =
    new RegExp(`^(AWG|SAE|gauge|ga) ?${GAUGE}$`, 'i').exec(text) ??
    flipped(new RegExp(`^${GAUGE} ?(AWG|SAE|gauge|ga)$`, 'i').exec(text));
  if (!match) return undefined;
  const [, system = '', number = ''] = match;
  if (/^g/i.test(system)) return several(text, [`${number} AWG`, `SAE ${number}`]);
  return size({ system: system.toLowerCase() === 'awg' ? 'awg' : 'sae', gauge: number });
}

function flipped(match: RegExpExecArray | null): [string, string, string] | undefined {
  return match ? [match[0], match[2] ?? '', match[1] ?? ''] : undefined;
}

/** "1.5 mm²", "1.5mm2", "1.5 sq mm", "1.5" */
function area(text: string, context: ShortContext): Reading | undefined {
  const match = /^([\d.,]+) ?(mm²|mm2|mm\^2|sq\.? ?mm|sqmm|qmm)?$/i.exec(text);
  const value = match && decimalOf(match[1] ?? '', context);
  if (!match || !value) return undefined;
  if (typeof value !== 'string')
    return several(
      text,
      value.several.map((each) => `${each} mm²`),
    );
  // "14.012": a stroke may be missing.
  const parted = /^(\d+)\.(0\d\d)$/.exec(value);
  if (match[2] === undefined && parted)
    return several(text, [`${parted[1] ?? ''}/.${parted[2] ?? ''}`, `${value} mm²`]);
  // A broken number is no gauge.
  if (match[2] === undefined && !value.includes('.'))
    return several(text, [`${value} mm²`, `${value} AWG`, `SAE ${value}`]);
  return size({ system: 'mm2', areaMm2: Number(value) });
}

const size = (value: Size): Reading => ({ value });
