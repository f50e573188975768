-- Who is forgotten is forgotten in refused bodies, too. The policy is that of the first tables.
set lock_timeout = '1s';
set statement_timeout = '5s';

grant select (owner, body), update (body) on attempts to asfitted_eraser;
