/** What every quote says about safety, whatever is in it. */
export const CAUTIONS: readonly string[] = [
  'Disconnect the battery before any work on the wiring, the earthed lead first.',
  'Fuse every circuit for the smallest wire in it, never for the load alone.',
  'Wire sizes, fuses and terminals are checked against published limits as far as the loom and its parts state them; the vehicle’s own documents, local rules and a qualified auto-electrician have the last word.',
  'Heat guns, hot knives and soldering burn, and their fumes harm: work in fresh air, away from fuel.',
  'Fuel, ignition and charging circuits can start a fire or hurt: have them looked over before they are powered.',
  'Lights, horn and signals must meet the road law of your country before the vehicle is driven.',
];
