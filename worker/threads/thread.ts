import { parentPort } from 'node:worker_threads';
import { checkLoom } from '../engine/checkLoom.ts';
import { quoteJob } from '../engine/engine.ts';
import { normaliseJob } from '../engine/job/normalise.ts';
import { documentText } from '../engine/model/canonical.ts';
import { Cancelled, type Control } from '../engine/model/control.ts';
import { faultsOf } from '../engine/model/faults.ts';
import { Job } from '../engine/model/job.ts';
import { OfferNotUsable } from '../engine/model/notUsable.ts';
import type { Result } from '../engine/model/result.ts';
import { resolveSettings } from '../engine/model/settings.ts';
import { Stopped } from '../engine/model/stopped.ts';
import { readJob } from '../engine/model/upgrade.ts';
import { winningPrice } from '../engine/winning/winningPrice.ts';
import type { ShelfSheet } from '../sheets/shelf/shelfSheet.ts';
import type { Said, Work, Worked } from './messages.ts';

/** The engine's thread: one piece of work at a time, told to stop through a shared number since solving blocks it. */
const port = parentPort;
if (!port) throw new Error('this file is the entry of a worker thread');

const say = (said: Said) => port.postMessage(said);

function controlOf(stop: Int32Array, seconds: number): Control {
  const until = performance.now() + seconds * 1000;
  return {
    remainingMs: () => Math.max(0, until - performance.now()),
    cancelled: () => Atomics.load(stop, 0) !== 0,
    report: (progress) => say({ says: 'progress', progress }),
  };
}

/** Enough to mend a loom by; the rest is counted. */
const MOST_FINDINGS = 100;

async function work(given: Work): Promise<Said> {
  const { job: document, stop } = given;
  try {
    if (given.kind === 'print') {
      // The library is loaded only where something is printed.
      const { printStored } = await import('./printed.ts');
      return { says: 'printed', pdf: await printStored(String(document), given.order) };
    }
    if (given.kind === 'printShelf') {
      const { printShelf } = await import('./printed.ts');
      return { says: 'printed', pdf: await printShelf(document as ShelfSheet, given.paper) };
    }
    const read = readJob(document);
    if (!read.success)
      return { says: 'notValid', findings: faultsOf(read.error, document, Job).slice(0, MOST_FINDINGS) };
    const job = read.data;
    const settings = resolveSettings({ club: job.club.settings, quote: job.request.settings });
    const flag = new Int32Array(stop);
    const control = controlOf(flag, settings.solverSeconds.value);
    if (given.kind === 'winningPrice')
      return { says: 'answered', answer: documentText(await winningPrice(job, given.offer, control)) };
    if (given.kind === 'check') return { says: 'checked', checks: documentText(checkLoom(job, control)) };
    const controls = {
      beside: () => controlOf(flag, settings.besideSeconds.value),
      buildOrBuy: () => controlOf(flag, settings.buildOrBuySeconds.value),
      quote: () => controlOf(flag, settings.solverSeconds.value),
    };
    const quote = await quoteJob(job, control, controls);
    const jobText = documentText(normaliseJob(job));
    const worked = (result: Result): Worked => ({
      job: jobText,
      jobHash: result.jobHash,
      result: documentText(result),
    });
    let result: Result | undefined;
    // What is there is told before what follows it is worked.
    const tell = () => say({ says: 'quoted', worked: worked(result ?? quote.result()) });
    if (quote.withBeside) {
      tell();
      result = await quote.withBeside(controls.beside());
    }
    if (quote.withBuildOrBuy) {
      tell();
      result = await quote.withBuildOrBuy(controls.buildOrBuy());
    }
    return { says: 'done', worked: worked(result ?? quote.result()) };
  } catch (error) {
    if (error instanceof Cancelled) return { says: 'cancelled' };
    if (error instanceof OfferNotUsable)
      return { says: 'notUsable', findings: error.findings.slice(0, MOST_FINDINGS) };
    if (error instanceof Stopped)
      return {
        says: 'stopped',
        findings: error.findings.slice(0, MOST_FINDINGS),
        count: error.findings.length,
      };
    const { name, message } = error instanceof Error ? error : { name: 'unknown', message: '' };
    return { says: 'failed', name, message };
  }
}

port.on('message', (given: Work) => void work(given).then(say));
