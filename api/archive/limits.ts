/** The most that an archive may hold when it is read in. */
export interface ArchiveLimits {
  /** As it comes, packed. */
  packedBytes: number;
  /** Of all its lines. */
  unpackedBytes: number;
  /** Of one line. */
  lineBytes: number;
}

/** JSON packs to a tenth or so; what grows more than this is none of ours. */
const GROWS = 20;

/** A line holds what came as one body, or a quote worked from several. */
const BODIES_A_LINE = 4;

export function archiveLimits(options: { bodyBytes: number; archiveBytes: number }): ArchiveLimits {
  const { bodyBytes, archiveBytes } = options;
  return {
    packedBytes: archiveBytes,
    unpackedBytes: archiveBytes * GROWS,
    lineBytes: bodyBytes * BODIES_A_LINE,
  };
}
