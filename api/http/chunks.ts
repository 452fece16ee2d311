import { HttpProblem } from './problem.ts';

/**
 * The body of a request, piece by piece. Problem: 400 where the connection ends before the body is whole: the caller hung
 * up, which is no fault of the server, and nobody reads the answer.
 */
export async function* chunksOf(request: Request): AsyncIterable<Uint8Array> {
  try {
    for await (const chunk of (request.body ?? []) as AsyncIterable<Uint8Array>) yield chunk;
  } catch {
    throw new HttpProblem(
      'malformed-request',
      'The connection ended before the body was whole. Send it again.',
    );
  }
}
