import type { Fields } from './form.ts';

/** Documents whose shape is not checked yet. */
export const textOf = (value: unknown) => (typeof value === 'string' ? value : undefined);

export const fieldsOf = (value: unknown): Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Fields) : {};

export const listOf = (value: unknown): unknown[] => (Array.isArray(value) ? (value as unknown[]) : []);
