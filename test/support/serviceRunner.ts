import { inject, TestRunner } from 'vitest';
import type { SerializedConfig } from 'vitest';

const NO_NAME = /(?!)/;

/** Collects the service project's tests; where its servers are missing it runs none of them, nor their hooks. */
export default class ServiceRunner extends TestRunner {
  constructor(config: SerializedConfig) {
    super(inject('serviceSkipReason') === null ? config : { ...config, testNamePattern: NO_NAME });
  }
}
