import { z } from 'zod';
import { withShort } from './short/form.ts';
import { sizeForm } from './short/sizeForm.ts';

const strandCount = z.int().min(1).max(5000);

/** How a wire's size is marked. Marks of different systems are different sizes until a trade table says they are equal. */
export const Size = withShort(
  z
    .discriminatedUnion('system', [
      z.strictObject({ system: z.literal('mm2'), areaMm2: z.number().positive().max(500) }),
      z.strictObject({
        system: z.literal('awg'),
        gauge: z
          .string()
          .regex(/^([1-9]|[1-4]\d|50|[1-4]\/0)$/, 'AWG runs from 50 to 1, then 1/0 to 4/0')
          .meta({ example: '18' }),
      }),
      z.strictObject({
        system: z.literal('sae'),
        gauge: z
          .string()
          .regex(/^([1-9]|1\d|2\d|[1-4]\/0)$/, 'SAE gauge runs from 29 to 1, then 1/0 to 4/0')
          .meta({ example: '18' }),
      }),
      z.strictObject({
        system: z.literal('metricStrands'),
        strands: strandCount,
        strandMm: z.number().positive().max(5),
      }),
      z.strictObject({
        system: z.literal('imperialStrands'),
        strands: strandCount,
        strandInch: z.number().positive().max(0.25),
      }),
      z.strictObject({
        system: z.literal('measuredStrands'),
        strands: strandCount,
        strandMm: z.number().positive().max(5),
      }),
    ])
    .meta({
      id: 'Size',
      example: { system: 'metricStrands', strands: 14, strandMm: 0.3 },
      description:
        'Wire size: mm² area, AWG, SAE gauge (not the same as AWG), metric strands (14/0.30), imperial strands (14/.012), or strands counted and measured where the mark is gone.',
    }),
  sizeForm,
);
export type Size = z.infer<typeof Size>;

/** Sizes are asked for their words many times over. */
const labels = new WeakMap<Size, string>();

/** The size as it is said and printed: "1 mm²", "14/0.30", "14/.012", "AWG 18", "SAE 18". */
export function sizeLabel(size: Size): string {
  const known = labels.get(size) ?? written(size);
  labels.set(size, known);
  return known;
}

function written(size: Size): string {
  switch (size.system) {
    case 'mm2':
      return `${size.areaMm2} mm²`;
    case 'awg':
      return `AWG ${size.gauge}`;
    case 'sae':
      return `SAE ${size.gauge}`;
    case 'metricStrands':
      return `${size.strands}/${size.strandMm.toFixed(Math.max(2, decimals(size.strandMm)))}`;
    case 'imperialStrands':
      return `${size.strands}/${size.strandInch.toFixed(Math.max(3, decimals(size.strandInch))).replace(/^0/, '')}`;
    case 'measuredStrands':
      return `${size.strands} strands of ${size.strandMm} mm, measured`;
  }
}

/** One key for one size: equal keys are the same mark. Safe inside a requirement's name. */
export function sizeKey(size: Size): string {
  return sizeLabel(size).replace(' mm²', 'mm2').replaceAll(' ', '-').replaceAll(',', '');
}

function decimals(value: number): number {
  return (String(value).split('.')[1] ?? '').length;
}
