#!/usr/bin/env bash
# A forum bot: a question in, a post out. Needs curl.
#
#   forum-bot.sh [--form txt|md] CALL MEMBER=VALUE...
#
#   forum-bot.sh check engine.bore='5 1/4 in' engine.stroke='8 in' engine.peak_pressure='285 psi' pin.diameter='1 1/8 in'
#
# CALL is a word of the API (load, strength, slot, set-screw, fit, material, check, size, inspection, turning); MEMBER is a
# member of the job named by its path. SMALLEND_URL is the service's address. The exit status is 0 for an answer, 1 for a
# question that was refused (the post says why), 2 if the service cannot answer now (nothing is posted).
set -uo pipefail

service=${SMALLEND_URL:-http://127.0.0.1:8080}
form=md
if [ "${1:-}" = --form ]; then
  form=${2:-md}
  shift 2
fi
call=${1:-}
case $call in
  "" | *[!a-z-]*) echo "usage: $0 [--form txt|md] CALL MEMBER=VALUE..." >&2; exit 2 ;;
esac
shift

# Words that are no MEMBER=VALUE would be sent without a name, and curl would read a file for a word with @.
parameters=()
for word in "$@"; do
  case $word in
    [a-z]*=*) ;;
    *) echo "This is not MEMBER=VALUE: $word"; exit 1 ;;
  esac
  case ${word%%=*} in
    *[!a-z_.0-9]*) echo "This is not the name of a member: ${word%%=*}"; exit 1 ;;
  esac
  parameters+=(--data-urlencode "$word")
done

# One GET. curl writes status and address behind the post, on a line of their own.
reply=$(curl -sS -G --max-time 20 "$service/v1/$call" ${parameters[@]+"${parameters[@]}"} \
  -H "Accept: text/$([ "$form" = txt ] && echo plain || echo markdown)" -w '\n%{http_code} %{url_effective}') || exit 2
status_line=${reply##*$'\n'}
post=${reply%$'\n'*}
status=${status_line%% *}
link=${status_line#* }

case $status in
  200) ;;
  404) echo "There is no call named $call."; exit 1 ;;
  400 | 414 | 422 | 431)                    # the question's fault, and the text says which
    printf '%s\n' "$post"
    exit 1
    ;;
  *) echo "the service answers $status; try again later" >&2; exit 2 ;;
esac
printf '%s\n' "$post"
# A browser that follows the same link gets a page. A service that knows its public address has written it already.
case $post in
  *"$service/v1/"*) ;;
  *) printf '\nThe question as a link: <%s>\n' "$link" ;;
esac
