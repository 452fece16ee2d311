/** Why an offer cannot be used: a finding but for its place and where that is. */
export interface Refusal {
  code: string;
  severity: 'warning' | 'note';
  field: PropertyKey[];
  found: string;
  limit?: string;
  todo: string;
}
