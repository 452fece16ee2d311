/** What a command was asked; where its words say nothing, the sentence that tells why. */
export function understood<T extends object>(read: () => T): T | string {
  try {
    return read();
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
