import type { LoomRevision } from './loom.ts';

/**
 * Checks of references run beside those of shape, so that all faults are told at once. They may run only where the lists
 * that they walk are lists of things with the fields that they read, whatever else is wrong with these.
 */
type Fields = Record<string, unknown>;

export function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isListOf(value: unknown, sound: (item: Fields) => boolean): boolean {
  return Array.isArray(value) && value.every((item) => isFields(item) && sound(item));
}

const isCodes = (value: unknown) => value === undefined || Array.isArray(value);
const isUse = (value: unknown) => value === undefined || isFields(value);

function isEnd(value: unknown): boolean {
  return isFields(value) && ['terminal', 'seal', 'cover', 'label'].every((use) => isUse(value[use]));
}

/** Whether the references inside a loom can be followed. */
export function isLoomSound(value: unknown): value is LoomRevision {
  if (!isFields(value)) return false;
  const item = (sound: (fields: Fields) => boolean) => (fields: Fields) =>
    isCodes(fields['options']) && sound(fields);
  const any = item(() => true);
  return (
    isCodes(value['options']) &&
    isListOf(
      value['points'],
      item((point) => isUse(point['matedTo'])),
    ) &&
    isListOf(value['branches'], any) &&
    isListOf(
      value['wires'],
      item((wire) => isEnd(wire['from']) && isEnd(wire['to']) && isCodes(wire['via'])),
    ) &&
    isListOf(
      value['cables'],
      item((cable) => isCodes(cable['via'])),
    ) &&
    isListOf(
      value['coverings'],
      item((covering) => isCodes(covering['over'])),
    ) &&
    isListOf(value['fittings'], any) &&
    isListOf(value['parts'], any) &&
    isListOf(value['asOriginal'], any)
  );
}

/** Whether the references of an offer can be followed. */
export function isOfferSound(offer: Fields): boolean {
  return offer['form'] !== 'kit' || isListOf(offer['contents'], () => true);
}

/** Whether the references between the lists of a job can be followed. */
export function isJobSound(value: unknown): boolean {
  if (!isFields(value)) return false;
  const any = () => true;
  const { request } = value;
  return (
    isListOf(value['parts'], any) &&
    isListOf(value['suppliers'], any) &&
    isListOf(value['offers'], isOfferSound) &&
    isListOf(value['fits'], any) &&
    ['rates', 'lanes', 'stock'].every((field) => isListOf(value[field], any)) &&
    isListOf(value['looms'], isLoomSound) &&
    isFields(request) &&
    ['shutOut', 'insistOn'].every((field) => isCodes(request[field])) &&
    (request['pinned'] === undefined || isListOf(request['pinned'], any)) &&
    isListOf(request['looms'], (line) => isCodes(line['options']))
  );
}
