/**
 * What a pump takes and gives, in the symbols of ISO 4391 and by the definitions of ISO 4409. Doubles: there is π in it,
 * and nothing is compared with a limit to the last digit. Efficiencies are parts of one.
 */

/** T = Δp·V/(2π·η_hm): N·m from bar and cm³ a revolution. A motor multiplies by its efficiency where a pump divides. */
export function shaftTorque(pressure: number, displacement: number, hydromechanical = 1): number {
  return (pressure * displacement) / (20 * Math.PI * hydromechanical);
}

/** The pressure at which a shaft torque is reached, in bar: `shaftTorque` the other way round. */
export function pressureFor(torque: number, displacement: number, hydromechanical = 1): number {
  return (torque * 20 * Math.PI * hydromechanical) / displacement;
}

/** Q = n·V·η_v: L/min from r/min and cm³ a revolution. */
export function deliveredFlow(speed: number, displacement: number, volumetric = 1): number {
  return (speed * displacement * volumetric) / 1000;
}

/** P = Δp·Q/η_t: kW from bar and L/min. Of a pump the most is at the corner, not at cut-off, where nothing flows. */
export function shaftPower(pressure: number, flow: number, total = 1): number {
  return (pressure * flow) / (600 * total);
}

/** Q = C_d·A·√(2Δp/ρ): L/min through an orifice from mm, bar and kg/m³. */
export function orificeFlow(bore: number, pressure: number, discharge: number, density: number): number {
  const area = (Math.PI / 4) * (bore / 1000) ** 2;
  return discharge * area * Math.sqrt((2 * pressure * 1e5) / density) * 60_000;
}

/** Of screw-in orifices, which are short tubes: lower when cold (common practice, no published source). */
export const dischargeBand = { least: 0.6, most: 0.85 } as const;
