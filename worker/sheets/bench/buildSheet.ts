import type { BenchLoom, BenchWire } from '../../engine/model/bench.ts';
import type { Result } from '../../engine/model/result.ts';
import { list, table, text, under, type Block, type Section } from '../block.ts';
import { counted } from '../amounts.ts';
import { madeAs } from '../options.ts';
import { cautions } from '../remarks.ts';
import { endRows } from './buildEnds.ts';
import { byBranch, coverings, fittingWords, threading, type OnBranch } from './buildLaid.ts';
import { legsOf, type Leg } from './legs.ts';
import { listed, partWords, placeWords, pointWords, type BenchResult, type PartWords } from './words.ts';

/** The order of work at each end: common practice, no source. */
const ORDER = [
  'Put on first: what goes on the wire before its terminal, in the order of that column. Push it well back.',
  'Label: check it against the far end of the wire, and slide it on.',
  'Strip: the length in that column, without cutting a strand.',
  'Join: crimp, solder or clamp. Where a terminal takes several wires, make all of them ready first. Try the tool on a spare terminal and the same wire.',
  'Pull: by hand, at the terminal and not at the insulation. What moves is made again.',
  'Slide on the cover or boot, push the terminal in its housing, shrink the sleeve; then tick.',
];

/** How each loom of a quote is built, leg by leg from the trunk outwards; then what to take care of. */
export function buildSections(result: BenchResult): Section[] {
  const words = partWords(result);
  const looms = (result.bench?.looms ?? []).filter(({ points, wires }) => points.length + wires.length > 0);
  if (looms.length === 0) return [];
  return [
    { title: 'Order of work at each end', blocks: list(ORDER) },
    ...looms.map((loom) => ({
      title: `Build: ${titleOf(loom, result)}`,
      blocks: buildBlocks(loom, result, words),
    })),
    { title: 'Take care', blocks: cautions(result) },
  ];
}

/** "Rear-lamp loom (trailer-rear), revision 1" */
export function titleOf({ loom }: BenchLoom, { looms }: BenchResult): string {
  const quoted = looms.find((each) => madeAs(each) === loom);
  return quoted ? `${quoted.name} (${loom}), revision ${quoted.revision}` : loom;
}

function buildBlocks(loom: BenchLoom, result: BenchResult, words: PartWords): Block[] {
  const quoted = result.looms.find((each) => madeAs(each) === loom.loom);
  const legs = legsOf(loom);
  const on = byBranch(loom, legs);
  return [
    ...text(
      quoted && quoted.quantity > 1
        ? `${quoted.quantity} looms are built alike. Print this sheet once for each.`
        : '',
    ),
    ...layout(legs, quoted),
    ...cables(loom, words),
    ...coverings(loom, words),
    ...under('Fittings without a branch', list(loose(loom, words))),
    ...legs.flatMap((leg, index) => legBlocks(leg, index + 1, on, words)),
    ...under('Notes of the wires', list(loom.wires.flatMap(noteOf))),
  ];
}

function noteOf({ wire, note }: BenchWire): string[] {
  return note === undefined || note.trim() === '' ? [] : [`${wire}: ${note}`];
}

function layout(legs: readonly Leg[], quoted: Result['looms'][number] | undefined): Block[] {
  const bundles = new Map((quoted?.branches ?? []).map((each) => [each.branch, each]));
  return under(
    'Legs, from the trunk outwards: lay out the board',
    table(
      [
        { head: 'Leg', align: 'right' },
        { head: 'Branch' },
        { head: 'From', wraps: true },
        { head: 'To', wraps: true },
        { head: 'mm', align: 'right' },
        { head: 'Wires and cables', align: 'right' },
        { head: 'mm across', align: 'right' },
      ],
      legs.flatMap(({ branch, inner }, index) => {
        if (!branch) return [];
        const bundle = bundles.get(branch.branch);
        const [from, to] = inner === branch.to ? [branch.to, branch.from] : [branch.from, branch.to];
        return [
          [
            `${index + 1}`,
            branch.branch,
            from,
            to,
            `${branch.lengthMm}`,
            bundle ? `${bundle.wires.length + bundle.cables.length}` : '',
            bundle?.bundleMm === undefined ? '' : `${bundle.bundleMm}`,
          ],
        ];
      }),
    ),
  );
}

function cables({ cables: all }: BenchLoom, words: PartWords): Block[] {
  return under(
    'Cables',
    table(
      [
        { head: '', tick: true },
        { head: 'Cable' },
        { head: 'What', wraps: true },
        { head: 'Along', wraps: true },
        { head: 'Its cores', wraps: true },
        { head: 'Cut, mm', align: 'right' },
      ],
      all.map(({ cable, part, via = [], cores, cutMm }) => [
        '',
        cable,
        part === undefined ? 'no part named' : words.described(part),
        via.join(', '),
        cores.join(', '),
        cutMm === undefined ? 'measure' : `${cutMm}`,
      ]),
    ),
  );
}

function loose({ fittings, branches }: BenchLoom, words: PartWords): string[] {
  const drawn = new Set(branches.map(({ branch }) => branch));
  return fittings
    .filter(({ branch }) => branch === undefined || !drawn.has(branch))
    .map((each) => fittingWords(each, undefined, words));
}

function legBlocks(leg: Leg, number: number, on: ReadonlyMap<string, OnBranch>, words: PartWords): Block[] {
  const { before, after } = threading(leg, on.get(leg.branch?.branch ?? ''), words);
  return under(legHead(leg, number), [
    ...(before.length === 0
      ? []
      : [...text('Thread on before the terminals, in this order:'), ...list(before)]),
    ...leg.points.flatMap((here) => [...text(pointHead(here, words)), ...endRows(here, words)]),
    ...(after.length === 0 ? [] : [...text('Put on when its ends are done:'), ...list(after)]),
    ...(before.length + after.length + leg.points.length === 0
      ? text('Nothing is done here: all of it stands in other legs.')
      : []),
  ]);
}

/** "Leg 2 (left-leg, 450 mm, from rear to left)" */
function legHead({ branch, inner, points }: Leg, number: number): string {
  if (!branch) return `Point ${listed(points.map(({ point }) => point.point))}, on no branch`;
  const [from, to] = inner === branch.to ? [branch.to, branch.from] : [branch.from, branch.to];
  const what = inner === undefined ? ', the trunk' : '';
  return `Leg ${number}${what} (${branch.branch}, ${branch.lengthMm} mm, from ${from} to ${to})`;
}

function pointHead({ point, ends }: Leg['points'][number], words: PartWords): string {
  const { part, fromLoom, matedTo } = point;
  return [
    `At ${pointWords(point)}${part === undefined ? '' : `: ${words.described(part)}`}`,
    ...(fromLoom === undefined ? [] : [`the part comes with loom ${fromLoom}`]),
    ...(matedTo ? [`plugs into ${placeWords({ point: matedTo.point })} of loom ${matedTo.loom}`] : []),
    ...(ends.length === 0 ? ['nothing ends here'] : [counted(ends.length, 'end')]),
  ].join('; ');
}
