import { parentPort } from 'node:worker_threads';
import { ENDPOINTS } from '../../endpoints.ts';
import { fewFindings } from '../../../worker/engine/model/mostFindings.ts';
import { jsonOf } from '../body.ts';
import { HttpProblem } from '../problem.ts';
import type { HasRead, ToRead } from './messages.ts';
import { readAlone, readWithClub } from './read.ts';

/** The thread of large bodies: reads and checks one at a time, away from the event loop that answers everybody. */
const port = parentPort;
if (!port) throw new Error('this file is the entry of a worker thread');

const shapes = new Map(ENDPOINTS.map((each) => [`${each.method.toUpperCase()} ${each.path}`, each]));

function read({ endpoint, bytes, club }: ToRead): HasRead {
  try {
    const shape = shapes.get(endpoint) ?? {};
    const sent = jsonOf(bytes);
    const came = club ? readWithClub(shape, sent, club) : readAlone(shape, sent);
    if (!came) return { says: 'asksClub' };
    if (came.is === 'sound')
      return { says: 'sound', body: new TextEncoder().encode(JSON.stringify(came.body)), made: came.made };
    return { says: 'faulty', findings: fewFindings(came.findings), named: came.named };
  } catch (error) {
    if (error instanceof HttpProblem)
      return {
        says: 'problem',
        kind: error.kind,
        detail: error.message,
        findings: error.findings && fewFindings(error.findings),
      };
    return { says: 'failed', name: error instanceof Error ? error.name : 'unknown' };
  }
}

port.on('message', (given: ToRead) => {
  const said = read(given);
  port.postMessage(said, said.says === 'sound' ? [said.body.buffer] : []);
});
