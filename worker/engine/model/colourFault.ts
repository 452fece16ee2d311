import { colourWords, shadeWords, type WireColour } from './colour.ts';
import { colourOfLetters, lettersInWords, readingsOf, SYSTEM_NAMES } from './colourLetters.ts';
import type { LoomRevision } from './loom.ts';
import { isFields } from './soundness.ts';

/** A fixed word, the path inside the colour, and the sentence that says what to fix. */
type Fault = { code: string; path: (keyof WireColour)[]; message: string };

/**
 * A wire's colour is stated once: in shades, or in letters that the loom's colour system has. Beside letters that leave
 * open which of two colours is the base, the base is stated too. The path is below the colour.
 */
export function colourFault(colour: WireColour, system: LoomRevision['colourSystem']): Fault | undefined {
  // What has no shape at all is a fault of its own, already told.
  if (!isFields(colour)) return undefined;
  const { base, tracer, letters } = colour;
  const shaded = base !== undefined || tracer !== undefined;
  if (letters === undefined)
    return base === undefined
      ? {
          code: 'no-colour',
          path: [],
          message: 'state the base shade, or the letters of the loom’s colourSystem',
        }
      : undefined;
  const known = typeof letters === 'string' && system in SYSTEM_NAMES && system !== 'words';
  const readings = known ? readingsOf(letters, system) : [];
  if (known && readings.length > 1) return openFault(letters, system, colour);
  if (shaded)
    return {
      code: 'two-colours',
      path: ['letters'],
      message: 'state the colour in shades or in letters, not in both',
    };
  if (system === 'words')
    return {
      code: 'letters-without-system',
      path: ['letters'],
      message:
        'set the loom’s colourSystem to iec60757, bsAu7 or german: the same letters mean different colours in each',
    };
  if (!known || readings.length > 0) return undefined;
  return {
    code: 'letters-not-of-system',
    path: ['letters'],
    message: `letters of ${SYSTEM_NAMES[system]} are base and tracer from this list: ${lettersInWords(system)}; correct them, or the loom’s colourSystem`,
  };
}

/** Letters that may be read in two ways: the base says which, and a tracer beside it is the other colour. */
function openFault(
  letters: string,
  system: keyof typeof SYSTEM_NAMES,
  { base, tracer }: WireColour,
): Fault | undefined {
  const settled = colourOfLetters(letters, system, base);
  if (settled && (tracer === undefined || tracer === settled.tracer)) return undefined;
  const readings = readingsOf(letters, system);
  const either = readings.map((colour) => colourWords(colour)).join(' or ');
  const bases = readings.map((colour) => `"base": "${colour.base}"`).join(' or ');
  if (base === undefined && tracer === undefined)
    return {
      code: 'base-not-stated',
      path: ['letters'],
      message: `${letters} is ${either}: letters of ${SYSTEM_NAMES[system]} do not say which colour is the base; add ${bases}, or state base and tracer instead of letters`,
    };
  const stated = [base && `base ${shadeWords(base)}`, tracer && `tracer ${shadeWords(tracer)}`];
  return {
    code: 'two-colours',
    path: ['letters'],
    message: `${letters} is ${either}, but the colour also states ${stated.filter(Boolean).join(' with ')}; state ${bases}, or correct the letters`,
  };
}
