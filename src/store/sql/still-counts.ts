/** Of `part_uses as part_use`: what a correction has replaced went nowhere and took nothing. */
export const stillCounts = `
  not exists (
    select from facts
    where facts.owner = part_use.owner and facts.concerns = part_use.fact and facts.kind = 'correction')`;
