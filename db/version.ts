/** Which state of a row somebody read: its number, and the life of the row, since a code may be given up and used again. */
export interface Version {
  number: number;
  /** When the row was made, ms. */
  born: number;
}

export function versionOf(row: { version: number; createdAt: Date }): Version {
  return { number: row.version, born: row.createdAt.getTime() };
}

export function isVersion(row: { version: number; createdAt: Date }, read: Version): boolean {
  return row.version === read.number && row.createdAt.getTime() === read.born;
}
