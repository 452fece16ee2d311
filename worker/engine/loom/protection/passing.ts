import {
  isAnode,
  isBatteryMark,
  isCathode,
  isCoilMark,
  isContactMark,
  isEarthMark,
  isMinus,
} from './markings.ts';
import type { PointEnds, Post } from './pointEnds.ts';

/** How current passes through a device that is no fuse and uses none up. */
export type Passing =
  /** From any of these places to any other. */
  | { kind: 'joined'; places: readonly number[] }
  /** From the one that is fed to all others, of which nothing says beforehand which it is. */
  | { kind: 'switch'; places: readonly number[] }
  | { kind: 'diode'; anode: number; cathode: number };

/**
 * Switch of two pins, ammeter and flasher pass current, a relay between 30 and 87; a switch of more pins may hold several
 * switches, so it passes only from the one pin that is fed. A device of unknown kind may use the current up, and passes none.
 */
export function passingOf({ device, posts, pins }: PointEnds): Passing | undefined {
  if (!device) return undefined;
  const places = placesOf(posts.filter(({ way }) => !isEarthMark(way) && !isMinus(way)));
  switch (device.deviceType) {
    case 'switch':
      if (places.length < 2) return undefined;
      return { kind: places.length === 2 && pins.length <= 2 ? 'joined' : 'switch', places };
    case 'ammeter': {
      const all = placesOf(posts);
      return all.length === 2 ? { kind: 'joined', places: all } : undefined;
    }
    case 'flasher':
      return places.length < 2 ? undefined : { kind: 'joined', places };
    case 'relay': {
      const contacts = posts.filter(({ way }) => isContactMark(way));
      if (contacts.some(({ way }) => isBatteryMark(way)))
        return { kind: 'joined', places: placesOf(contacts) };
      const rest = posts.filter(({ way }) => way !== undefined && !isCoilMark(way));
      return rest.length > 1 ? { kind: 'switch', places: placesOf(rest) } : undefined;
    }
    case 'diode': {
      const anode = posts.find(({ way }) => isAnode(way))?.place;
      const cathode = posts.find(({ way }) => isCathode(way))?.place;
      return anode === undefined || cathode === undefined ? undefined : { kind: 'diode', anode, cathode };
    }
    case 'fuse':
    case 'fuseHolder':
    case 'resistor':
    case 'lamp':
    case 'electronics':
    case 'other':
      return undefined;
  }
}

function placesOf(posts: readonly Post[]): number[] {
  return posts.map(({ place }) => place);
}
