/** One request that was answered. */
export interface Answered {
  /** The path of the endpoint with its names in braces, so that there are no more of them than endpoints. */
  route: string;
  method: string;
  status: number;
  seconds: number;
}

/** What counts requests. */
export interface Meter {
  answered(request: Answered): void;
}
