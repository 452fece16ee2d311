import { colourWords, type Colour } from '../../engine/model/colour.ts';
import type { PieceEnd } from '../../engine/model/pieceEnd.ts';
import type { Requirement, Result } from '../../engine/model/result.ts';
import { sizeLabel } from '../../engine/model/size.ts';
import { list, type Section } from '../block.ts';
import type { Label, LabelLayout } from '../labels/label.ts';
import { madeAs } from '../options.ts';
import { cautions } from '../remarks.ts';
import { benchIndex } from './atTheEnd.ts';
import { benchLengths } from './lengths.ts';

/** What stands on the label at one end of a wire. */
export interface EndLabel {
  loom: string;
  wire: string;
  side: 'from' | 'to';
  /** The name that the wire states; else empty. */
  circuit: string;
  here: string;
  there: string;
  /** In words: "green with white tracer". */
  colour: string;
  size: string;
}

interface NamedWire {
  name: string;
  colour: Colour;
  size: string;
  circuit: string;
  older: readonly PieceEnd[];
}

/** The labels of both ends of every wire as often as it is made, in the order of cutting; then those of wires that are not cut. */
export function endLabels(result: Result): EndLabel[] {
  const wires = new Map(namedWires(result).map((wire) => [wire.name, wire]));
  const quantities = new Map(result.looms.map((loom) => [madeAs(loom), loom.quantity]));
  const index = benchIndex(result);
  const left = new Map([...wires.keys()].map((name) => [name, quantities.get(loomOf(name)) ?? 1]));
  const cut = benchLengths(result).flatMap(({ pieces }) =>
    pieces.flatMap(({ name, cores }) =>
      cores.length > 0 ? cores.map((core) => `${loomOf(name)}/${core}`) : wires.has(name) ? [name] : [],
    ),
  );
  for (const name of cut) left.set(name, (left.get(name) ?? 0) - 1);
  const uncut = [...left].flatMap(([name, count]) => Array.from({ length: Math.max(0, count) }, () => name));
  return [...cut, ...uncut].flatMap((name): EndLabel[] => {
    const wire = wires.get(name);
    const [from, to] = index.ends(name, wire?.older);
    if (!wire || !from || !to) return [];
    const about = {
      loom: loomOf(name),
      wire: name.slice(loomOf(name).length + 1),
      circuit: wire.circuit,
      colour: colourWords(wire.colour),
      size: wire.size,
    };
    return [
      { ...about, side: 'from', here: from.place, there: to.place },
      { ...about, side: 'to', here: to.place, there: from.place },
    ];
  });
}

const loomOf = (name: string) => name.slice(0, name.lastIndexOf('/'));

function namedWires({ bench, circuits, requirements }: Result): NamedWire[] {
  const names = new Map(
    circuits.flatMap((circuit) =>
      circuit.wires.map(({ loom, wire }) => [`${loom}/${wire}`, circuit.names.join(', ')] as const),
    ),
  );
  if (bench)
    return bench.looms.flatMap(({ loom, wires }) =>
      wires.map(({ wire, colour, size, circuitName }) => ({
        name: `${loom}/${wire}`,
        colour,
        size: sizeLabel(size),
        circuit: circuitName ?? names.get(`${loom}/${wire}`) ?? '',
        older: [],
      })),
    );
  return requirements.flatMap((need) => (need.kind === 'wire' ? olderWires(need, names) : []));
}

function olderWires(
  { pieces, colour, size }: Extract<Requirement, { kind: 'wire' }>,
  names: ReadonlyMap<string, string>,
): NamedWire[] {
  return pieces.map(({ loom, wire, ends = [] }) => ({
    name: `${loom}/${wire}`,
    colour,
    size: sizeLabel(size),
    circuit: names.get(`${loom}/${wire}`) ?? '',
    older: ends,
  }));
}

/** "W3 · tail lamps", "joiner tail → lamp tail", "red", "1 mm² · trailer-rear": the most important first. */
export function labelOf({ wire, circuit, here, there, colour, size, loom }: EndLabel): Label {
  return {
    rows: [circuit === '' ? wire : `${wire} · ${circuit}`, `${here} → ${there}`, colour, `${size} · ${loom}`],
  };
}

/** How labels are used: common practice, no source. */
function howTo({ kind, form, widthMm, heightMm }: LabelLayout): string[] {
  return [
    `Print at full size (100 %, not “fit to page”). Each label is ${widthMm} × ${heightMm} mm. Measure one before you print all.`,
    'Each wire has two labels, in the order of the cutting sheet. The place before the arrow is the end that the label belongs to.',
    kind === 'flag'
      ? 'Fold each label round its wire at the dashed line and stick it to itself.'
      : 'Slide each label into a clear sleeve on the wire, or print on the sleeve.',
    ...(form === 'sheet' ? ['Put labels on before the terminals. Leave room for covers and seals.'] : []),
  ];
}

/** The label sheet. A strip is labels alone, since each of its pages is one. */
export function labelSections(result: Result, layout: LabelLayout): Section[] {
  const labels = endLabels(result).map(labelOf);
  if (labels.length === 0) return [];
  const block = { form: 'labels', labels, layout } as const;
  if (layout.form === 'strip') return [{ title: '', blocks: [block] }];
  return [
    { title: 'How to print and use the labels', blocks: list(howTo(layout)) },
    { title: 'Take care', blocks: cautions(result) },
    { title: '', blocks: [block] },
  ];
}
