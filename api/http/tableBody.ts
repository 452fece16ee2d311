import type { Context } from 'hono';
import { HttpProblem } from './problem.ts';

/** Bodies that are tables. */

/** Whether a body is said to be a table. */
export const isTable = (c: Context): boolean =>
  /^text\/csv\s*(;|$)/i.test(c.req.header('content-type') ?? '');

/** Problem: 415 where the text is packed, or said to be in an encoding that is not read. */
export function requireReadable(c: Context): void {
  const packed = c.req.header('content-encoding') ?? 'identity';
  if (packed.trim().toLowerCase() !== 'identity')
    throw new HttpProblem(
      'unsupported-media-type',
      `This came with Content-Encoding: ${JSON.stringify(packed.slice(0, 80))}. Send the table as it is.`,
    );
  const charset = /;\s*charset\s*=\s*"?([^";\s]*)/i.exec(c.req.header('content-type') ?? '')?.[1];
  if (charset !== undefined && !/^(utf-?8|utf-?16(le|be)?|us-ascii)$/i.test(charset))
    throw new HttpProblem(
      'unsupported-media-type',
      `This came as ${JSON.stringify(charset.slice(0, 80))}. Save the table as “CSV UTF-8” and send that file.`,
    );
}
