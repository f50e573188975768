-- Who is forgotten is forgotten everywhere: the shop's own id of a person is also a key of stock and in the routes and
-- answers kept with keys, and a fingerprint of a short text, such as a name, tells the text to who tries them all.
-- Policies are those of the first tables.
set lock_timeout = '1s';
set statement_timeout = '5s';

grant select (owner, kind, key), update (key, fingerprint) on stock_items to asfitted_eraser;
grant select (owner, fact), update (route, fingerprint, answer) on idempotency_keys to asfitted_eraser;
grant select (owner, fact), update (fingerprint) on registrations to asfitted_eraser;
