import type { OrderLine, Purchase } from '../engine/model/result.ts';
import { metres } from '../engine/units/length.ts';

type Bought = Purchase['bought'];

/** "3 packs of 10", "26 pieces", "11 m, one continuous length", "2 lengths of 25 m", "1 kit" */
export function quantityWords(bought: Bought): string {
  switch (bought.form) {
    case 'metre':
      return `${metres(bought.lengthMm)}, one continuous length`;
    case 'length':
      return `${counted(bought.packs, 'length')} of ${metres(bought.nominalMm)}`;
    case 'kit':
      return counted(bought.packs, 'kit');
    case 'pack':
      if (bought.packCount === 1) return counted(bought.packs, 'piece');
      return `${counted(bought.packs, 'pack')} of ${bought.packCount}`;
  }
}

/** "2.20 a pack", "0.475 a metre" */
export function priceWords(bought: Bought): string {
  switch (bought.form) {
    case 'metre':
      return `${bought.pricePerMetre.amount} a metre`;
    case 'length':
      return `${bought.packPrice.amount} a length`;
    case 'kit':
      return `${bought.packPrice.amount} a kit`;
    case 'pack':
      return `${bought.packPrice.amount} ${bought.packCount === 1 ? 'each' : 'a pack'}`;
  }
}

export function counted(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}

const CONDITIONS: Record<OrderLine['condition'], string> = {
  new: 'new',
  oldStock: 'old stock',
  used: 'used',
  reproduction: 'reproduction',
};

export function conditionWords(condition: OrderLine['condition']): string {
  return CONDITIONS[condition];
}
