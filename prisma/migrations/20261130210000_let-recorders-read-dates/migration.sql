-- What stood open at an earlier time is folded and listed in one transaction of the recorder, who reads the events whole.
set lock_timeout = '1s';
set statement_timeout = '5s';

grant select on unit_dates to asfitted_recorder;
