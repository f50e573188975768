/**
 * What every job sheet begins with. The usual cautions of work on hydraulic systems, after ISO 4413 and common
 * practice; none replaces the maker's manual, local codes, or trained people.
 */
export const cautions: readonly string[] = Object.freeze([
  "Work by trained, authorised people only. The maker's manual, ISO 4413 and local codes come before this sheet.",
  'Stop the drive and lock it out. Isolate the coils.',
  'Lower held loads, or block them.',
  'Relieve the pressure, discharge accumulators, and verify zero pressure with a gauge: a recorded step, not an assumption.',
  'Let it cool: oil and housings burn.',
  'Springs are preloaded: back them off before an adjuster is taken out.',
  'Never feel for a leak by hand. Fluid under the skin is a surgical emergency, even if it does not hurt.',
  'Never start with an unknown setting: back the adjusters off, with a relief valve known to be in circuit.',
  'A recorded setting does not prove a safe state.',
]);
