import type { Against, Checked } from '../loom/checks/countChecked.ts';

/** What every quote says about safety, whatever is in it, and how much of it was checked against what. */
export function cautionsOf(checked: Checked): string[] {
  return [
    'Disconnect the battery before any work on the wiring. Take off the earthed lead first.',
    'Choose the fuse of every circuit for its smallest wire, never for the load alone.',
    `Wire sizes, fuses and terminals are checked only if their figures are known. ${countsOf(checked)}`,
    'A fuse that is marked with its blow rating protects its wire against a short circuit, not against an overload.',
    'The vehicle’s own documents, local rules and a qualified auto-electrician are more important than this quote.',
    'Heat guns, hot knives and soldering irons burn, and their fumes are harmful. Work in fresh air, away from fuel.',
    'Fuel, ignition and charging circuits can start a fire or injure people. Have them checked before you connect power.',
    'Lights, horn and signals must meet the road law of your country before you drive the vehicle.',
  ];
}

const GROUNDS: readonly [keyof Against, string][] = [
  ['published', 'Checked against a published limit'],
  ['parts', 'Checked against figures of your own parts'],
  ['practice', 'Checked by common practice, without a published source'],
  ['not', 'Not checked'],
];

/** "Against a published limit: 12 wires with a current, 1 fuse. Not checked: 3 terminals." */
function countsOf({ wires, fuses, ends }: Checked): string {
  const sentences = GROUNDS.flatMap(([ground, words]) => {
    const counted = [
      ...some(wires[ground], 'wire with a current', 'wires with a current'),
      ...some(fuses[ground], 'fuse', 'fuses'),
      ...some(ends[ground], 'end with a terminal', 'ends with a terminal'),
    ];
    return counted.length === 0 ? [] : [`${words}: ${counted.join(', ')}.`];
  });
  return sentences.length === 0
    ? 'Nothing was checked here: no current, no fuse and no terminal is stated.'
    : sentences.join(' ');
}

function some(count: number, one: string, many: string): string[] {
  return count === 0 ? [] : [`${count} ${count === 1 ? one : many}`];
}
