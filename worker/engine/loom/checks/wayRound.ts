import type { Finding } from '../../model/finding.ts';
import { isAnode, isCathode, isMinus, isPlus } from '../protection/markings.ts';
import type { PointEnds, Post } from '../protection/pointEnds.ts';
import type { Protection } from '../protection/protection.ts';
import type { CheckContext } from './context.ts';

type Way = 'earth' | 'live' | undefined;

/** What the pins of a device and the wires at them say of which way round it stands. */
export interface WayRound {
  /** Its pins say which way round it goes, and the wires at one of them which way round it stands. */
  known: boolean;
  wrong: Omit<Finding, 'at' | 'where'>[];
}

const UNKNOWN: WayRound = { known: false, wrong: [] };

/**
 * Of a diode by its anode and cathode, of a flasher, ammeter or electronics by plus and minus. With negative earth the
 * live side is plus, with positive earth it is minus; with an insulated return nothing says which is which.
 */
export function wayRoundOf(at: PointEnds, { protection, circuits }: CheckContext): WayRound {
  const { device, asked } = at;
  if (!device || asked.loom.earth === 'insulatedReturn') return UNKNOWN;
  const positive = asked.loom.earth === 'positive';
  const poleOf = (post: Post | undefined): 'plus' | 'minus' | undefined => {
    const way = post && sideOf(post, protection);
    if (way === undefined) return undefined;
    return (way === 'live') === positive ? 'minus' : 'plus';
  };
  const post = (is: (way: string | undefined) => boolean) => at.posts.find(({ way }) => is(way));
  switch (device.deviceType) {
    case 'diode':
      return diode(post(isAnode), post(isCathode), poleOf, (a, k) =>
        protection.liesAcross(protection.regionOf(a.place), protection.regionOf(k.place), at),
      );
    case 'ammeter':
      return ammeter(post(isPlus), post(isMinus), positive, (at) =>
        at.ends.some(({ wire: { asked: of, wire } }) =>
          circuits
            .of(of.loom.code, wire.id)
            .wires.some(({ from, to }) => protection.isFeed(from) || protection.isFeed(to)),
        ),
      );
    case 'flasher':
    case 'electronics':
      return plusAndMinus(post(isPlus), post(isMinus), poleOf);
    case 'fuse':
    case 'fuseHolder':
    case 'relay':
    case 'resistor':
    case 'lamp':
    case 'switch':
    case 'other':
      return UNKNOWN;
  }
}

function sideOf({ place }: Post, { isEarth, live }: Protection): Way {
  if (isEarth(place)) return 'earth';
  return live(place) ? 'live' : undefined;
}

type PoleOf = (post: Post | undefined) => 'plus' | 'minus' | undefined;

function plusAndMinus(plus: Post | undefined, minus: Post | undefined, poleOf: PoleOf): WayRound {
  const [atPlus, atMinus] = [poleOf(plus), poleOf(minus)];
  const wrong = [
    ...(plus && atPlus === 'minus' ? [pinWrong(plus, 'positive', 'negative')] : []),
    ...(minus && atMinus === 'plus' ? [pinWrong(minus, 'negative', 'positive')] : []),
  ].slice(0, 1);
  return { known: atPlus !== undefined || atMinus !== undefined, wrong };
}

function pinWrong(post: Post, is: string, at: string): Omit<Finding, 'at' | 'where'> {
  return {
    code: 'wrong-way-round',
    severity: 'stop',
    found: `pin ${post.way ?? ''} (${is}) is at ${at}, over wire ${wireOf(post)}`,
    limit: `${is} at ${is}`,
    source: 'the pins of the device, and the wires at them',
    todo: 'Swap the two wires, or correct the pins, the feed or the earth of the loom.',
  };
}

/**
 * From its anode to its cathode a diode passes current. Between the two poles it would short them; fed at its cathode alone
 * it passes none, unless it lies across a coil, where it is meant to.
 */
function diode(
  anode: Post | undefined,
  cathode: Post | undefined,
  poleOf: PoleOf,
  liesAcross: (a: Post, k: Post) => boolean,
): WayRound {
  const [a, k] = [poleOf(anode), poleOf(cathode)];
  if (!anode || !cathode || (a === undefined && k === undefined)) return UNKNOWN;
  const told = (severity: 'stop' | 'warning', found: string, limit: string) => ({
    known: true,
    wrong: [
      {
        code: 'wrong-way-round',
        severity,
        found,
        limit,
        source: 'a diode conducts from its anode (A) to its cathode (K)',
        todo: 'Turn the diode round, or correct its pins, the feed or the earth of the loom.',
      },
    ],
  });
  const wires = `over wires ${wireOf(anode)} and ${wireOf(cathode)}`;
  if (a === 'plus' && k === 'minus')
    return told(
      'stop',
      `the diode joins positive at ${anode.way ?? ''} to negative at ${cathode.way ?? ''}, ${wires}: a short circuit`,
      'the cathode at positive, if the diode is between positive and negative',
    );
  if (liesAcross(anode, cathode)) return { known: true, wrong: [] };
  if (a === undefined && k === 'plus')
    return told(
      'warning',
      `the diode has positive at its cathode ${cathode.way ?? ''} only, ${wires}: no current flows`,
      'positive at the anode',
    );
  if (a === 'minus' && k === undefined)
    return told(
      'warning',
      `the diode has negative at its anode ${anode.way ?? ''} only, ${wires}: no current flows`,
      'negative at the cathode',
    );
  return { known: true, wrong: [] };
}

/**
 * Charge flows into it at plus. So with negative earth the battery is at minus, with positive earth at plus; the other way
 * round it takes no harm and shows charge as discharge.
 */
function ammeter(
  plus: Post | undefined,
  minus: Post | undefined,
  positive: boolean,
  atBattery: (post: Post) => boolean,
): WayRound {
  if (!plus || !minus) return UNKNOWN;
  const [batteryAtPlus, batteryAtMinus] = [atBattery(plus), atBattery(minus)];
  if (batteryAtPlus === batteryAtMinus) return UNKNOWN;
  if (batteryAtPlus === positive) return { known: true, wrong: [] };
  return {
    known: true,
    wrong: [
      {
        code: 'wrong-way-round',
        severity: 'warning',
        found: `the battery is at pin ${(batteryAtPlus ? plus : minus).way ?? ''}, over wire ${wireOf(batteryAtPlus ? plus : minus)}: the ammeter shows charge as discharge`,
        limit: `the battery at ${positive ? 'positive' : 'negative'}, with ${positive ? 'positive' : 'negative'} earth`,
        source: 'common practice, no source',
        todo: 'Swap the two wires, or correct the pins, the feed or the earth of the loom.',
      },
    ],
  };
}

function wireOf({ ends }: Post): string {
  return ends[0]?.wire.wire.id ?? '';
}
