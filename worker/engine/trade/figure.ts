/** A figure with the published table, or the part, that it was read from. */
export interface Figure {
  value: number;
  source: string;
}
