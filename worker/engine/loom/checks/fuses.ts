import type { Finding } from '../../model/finding.ts';
import { continuousAmps, fuseWords } from '../../trade/fuses.ts';
import type { CheckContext } from './context.ts';
import { atWire, eachWire, sortWords, type WirePlace } from './eachWire.ts';
import { smallestBehind, type Rated } from './behindFuses.ts';

/**
 * Each fuse, by what it carries for good, against the smallest rated wire behind it: its own, those that it is joined to
 * up to where another fuse stands, and those of the other circuits that state its circuit's name. So wires on the
 * battery's side of a fuse that state that name, or touch it, count as behind it.
 */
export function checkFuses(context: CheckContext): Finding[] {
  const behind = smallestBehind(context);
  return eachWire(context.looms).flatMap((place): Finding[] => {
    const { fuse, amps } = place.wire;
    if (!fuse) return [];
    const carries = continuousAmps(fuse.ratingAmps, fuse.basis);
    const least = behind(place);
    const words = fuseWords(fuse.ratingAmps, fuse.basis);
    return [
      ...(least && carries > least.amps ? [tooBig(place, words, least)] : []),
      ...(amps !== undefined && carries < amps ? [tooSmall(place, words, amps)] : []),
    ];
  });
}

function tooBig(place: WirePlace, words: string, { asked, wire, amps }: Rated): Finding {
  const loom = asked === place.asked ? '' : ` of loom ${asked.loom.code}`;
  return {
    code: 'fuse-too-big',
    severity: 'stop',
    ...atWire(place, 'fuse'),
    found: `a fuse of ${words} before wire ${wire.id}${loom}, ${sortWords(wire)}, rated ${amps} A`,
    limit: `${amps} A for good at the most`,
    source:
      'a protector opens before its wire’s rating is passed: FAA AC 43.13-1B, 11-48; the smallest wire behind it counts: common practice',
    todo: `Take a smaller fuse, a larger wire for ${wire.id}, or give that wire a fuse of its own.`,
  };
}

function tooSmall(place: WirePlace, words: string, amps: number): Finding {
  return {
    code: 'fuse-too-small',
    severity: 'warning',
    ...atWire(place, 'fuse'),
    found: `a fuse of ${words} in a wire of ${amps} A`,
    limit: `${amps} A for good at the least`,
    source: 'common practice, no source',
    todo: 'It blows in use. Take a larger fuse that the wires behind it still bear, or correct the amps.',
  };
}
