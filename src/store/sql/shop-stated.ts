/** Where a record was made, as `facts` have it; of a correction, what stands in the place of the record. */
export const shopStated = `coalesce(facts.statement::jsonb ->> 'shop', facts.statement::jsonb #>> '{body,shop}')`;
