import { byCode } from './code.ts';

/** An entry of a loom's options that holds this is a choice: "RHD | LHD", exactly one of which is chosen. */
const OR = '|';

/** A loom's options by their names, and those of which exactly one is chosen. */
export interface OptionSets {
  /** Every option, once each, as they stand. */
  names: string[];
  /** The choices, each with its options. */
  oneOf: string[][];
}

export function isChoice(entry: string): boolean {
  return entry.includes(OR);
}

/** The options that an entry of a loom's options names: several of a choice, else the one. */
export function namesIn(entry: string): string[] {
  return entry.split(OR).map((name) => name.trim());
}

/** "RHD|LHD" as it is stored: "RHD | LHD". */
export function inOneForm(entry: string): string {
  return namesIn(entry).join(` ${OR} `);
}

/** "RHD | LHD" and "LHD | RHD" are one choice. */
export function choiceInOrder(entry: string): string {
  return namesIn(entry).sort(byCode).join(` ${OR} `);
}

export function optionSetsOf(entries: readonly string[] | null | undefined): OptionSets {
  const all = (entries ?? []).filter((entry) => typeof entry === 'string');
  return {
    names: [...new Set(all.flatMap(namesIn))],
    oneOf: all.filter(isChoice).map(namesIn),
  };
}

/** What is wrong with the options chosen for a loom; the index is that of the option that is too many. */
export interface ChoiceFault {
  code: 'one-of-not-chosen' | 'one-of-chosen-twice';
  oneOf: string[];
  chosen: string[];
  index: number | undefined;
}

/** The choices of which none or more than one is chosen. */
export function choiceFaults({ oneOf }: OptionSets, chosen: readonly string[]): ChoiceFault[] {
  return oneOf.flatMap((choices): ChoiceFault[] => {
    const own = [...new Set(chosen.filter((option) => choices.includes(option)))];
    const [, second] = own;
    if (own.length === 1) return [];
    return second === undefined
      ? [{ code: 'one-of-not-chosen', oneOf: choices, chosen: own, index: undefined }]
      : [{ code: 'one-of-chosen-twice', oneOf: choices, chosen: own, index: chosen.indexOf(second) }];
  });
}

/** What to do about it, in words. */
export function choiceTodo({ oneOf, chosen }: ChoiceFault, loom: string): string {
  const found =
    chosen.length === 0
      ? 'none of them is chosen'
      : `${chosen.slice(0, -1).join(', ')} and ${chosen.at(-1) ?? ''} are chosen`;
  return `The loom ${loom} is made with exactly one of ${oneOf.join(', ')}, and ${found}; choose one of them`;
}
