import { z } from 'zod';

/** An operation at the bench or in the vehicle, as the setting and the result name it. */
interface OperationOf {
  /** In words: "crimping terminals". */
  label: string;
  /** What is counted. */
  unit: string;
  /** Hundredths of a minute for each: from memory, no source. */
  hundredths: number;
  /** Done once for all looms that are made alike: one board serves them all. */
  isOnce?: true;
  /** Done for a loom that is bought made, too. */
  evenIfBought?: true;
}

/**
 * The operations of rebuilding a loom, in the order of the work, with the minutes of each as a default. All minutes are from
 * memory, no source: they stand for somebody who has made a loom before and works with hand tools.
 */
export const OPERATIONS = {
  takingOff: { label: 'taking the old loom off', unit: 'wire', hundredths: 150, evenIfBought: true },
  recording: { label: 'recording the old loom', unit: 'wire', hundredths: 300, isOnce: true },
  board: { label: 'making the board', unit: 'board', hundredths: 6000, isOnce: true },
  layout: { label: 'laying out on the board', unit: 'loom', hundredths: 3000 },
  labels: { label: 'labels', unit: 'label', hundredths: 50 },
  cutting: { label: 'cutting', unit: 'piece', hundredths: 50 },
  sheath: { label: 'stripping the sheath of a cable', unit: 'end', hundredths: 150 },
  stripping: { label: 'stripping', unit: 'end', hundredths: 30 },
  crimping: { label: 'crimping', unit: 'terminal', hundredths: 100 },
  soldering: { label: 'soldering', unit: 'terminal', hundredths: 200 },
  joints: { label: 'joints', unit: 'joint', hundredths: 500 },
  seals: { label: 'seals', unit: 'seal', hundredths: 20 },
  covers: { label: 'covers', unit: 'cover', hundredths: 30 },
  sleevePieces: { label: 'starting a sleeve', unit: 'piece', hundredths: 200 },
  sleeveMetres: { label: 'threading through sleeve', unit: 'metre', hundredths: 400 },
  tape: { label: 'winding tape', unit: 'metre', hundredths: 60 },
  heatShrink: { label: 'heat-shrink', unit: 'piece', hundredths: 100 },
  fittings: { label: 'grommets, clips and other fittings', unit: 'fitting', hundredths: 100 },
  testing: { label: 'continuity test at the bench', unit: 'circuit', hundredths: 200 },
  fitting: { label: 'fitting in the vehicle', unit: 'point', hundredths: 400, evenIfBought: true },
  inVehicle: { label: 'finishing ends in the vehicle, in addition', unit: 'end', hundredths: 300 },
  testingFitted: {
    label: 'continuity test after fitting',
    unit: 'circuit',
    hundredths: 200,
    evenIfBought: true,
  },
  faults: { label: 'finding faults', unit: 'loom', hundredths: 6000 },
} as const satisfies Readonly<Record<string, OperationOf>>;

export type Operation = keyof typeof OPERATIONS;
export const OPERATION_NAMES = Object.keys(OPERATIONS) as Operation[];

export const operationOf = (operation: Operation): OperationOf => OPERATIONS[operation];

/** Minutes with at most 2 decimals, so that sums stay exact. */
const minutesEach = z
  .number()
  .min(0)
  .max(6000)
  .refine((value) => Math.round(value * 100) / 100 === value, 'minutes have at most 2 decimals');

export const LabourRule = z
  .strictObject({
    operation: z.enum(OPERATION_NAMES).meta({
      id: 'LabourOperation',
      description: 'An operation of rebuilding a loom. The page on settings says what each is.',
    }),
    minutes: minutesEach.meta({ description: 'The minutes for each. It can be 0.' }),
  })
  .meta({
    id: 'LabourRule',
    description: 'How many minutes an operation takes, each time. It is used instead of the default.',
    example: { operation: 'crimping', minutes: 0.8 },
  });
export type LabourRule = z.infer<typeof LabourRule>;

export function isLabourRule(rule: object): rule is LabourRule {
  return 'operation' in rule;
}

/** "crimping: 0.8 min" */
export function labourRuleText({ operation, minutes }: LabourRule): string {
  return `${operation}: ${minutes} min`;
}
