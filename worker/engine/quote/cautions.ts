import type { Against, Checked } from '../loom/checks/countChecked.ts';

/** What every quote says about safety, whatever is in it, and how much of it was checked against what. */
export function cautionsOf(checked: Checked): string[] {
  return [
    'Disconnect the battery before any work on the wiring, the earthed lead first.',
    'Fuse every circuit for the smallest wire in it, never for the load alone.',
    `Wire sizes, fuses and terminals are checked only as far as figures of them are known. ${countsOf(checked)}`,
    'A fuse marked by what blows it guards its wire against a short, not against an overload.',
    'The vehicle’s own documents, local rules and a qualified auto-electrician have the last word.',
    'Heat guns, hot knives and soldering burn, and their fumes harm: work in fresh air, away from fuel.',
    'Fuel, ignition and charging circuits can start a fire or hurt: have them looked over before they are powered.',
    'Lights, horn and signals must meet the road law of your country before the vehicle is driven.',
  ];
}

const GROUNDS: readonly [keyof Against, string][] = [
  ['published', 'Against a published limit'],
  ['parts', 'Against figures that your own parts state'],
  ['practice', 'By common practice, without a published source'],
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
    ? 'Here none were: no current, no fuse and no terminal is stated.'
    : sentences.join(' ');
}

function some(count: number, one: string, many: string): string[] {
  return count === 0 ? [] : [`${count} ${count === 1 ? one : many}`];
}
