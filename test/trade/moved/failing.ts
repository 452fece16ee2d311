import { valuesByFile } from '../allValues.ts';
import { isMet, nameOf, type TradeValue } from '../tradeValue.ts';

// Works every value and prints the names of those that fail: a process of its own for each constant that is moved.

function fails(value: TradeValue): boolean {
  try {
    return !isMet(value, value.got());
  } catch {
    return true;
  }
}

const values = [...(await valuesByFile()).values()].flat();
console.log(JSON.stringify({ all: values.map(nameOf), failing: values.filter(fails).map(nameOf) }));
