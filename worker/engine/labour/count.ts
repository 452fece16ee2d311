import type { Operation } from '../model/labour.ts';

/** Adds so many of what an operation is counted in; of metres, millimetres. */
export type Count = (operation: Operation, more: number) => void;

/** How often each operation is done; of those that are counted in metres, millimetres. */
export type Counts = ReadonlyMap<Operation, number>;
