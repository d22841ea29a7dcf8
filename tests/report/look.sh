#!/usr/bin/env bash
# Shows pages as people will see them, and checks them.
#
#     tests/report/look.sh FILE.html... [--to FOLDER]
#         pictures at the widths of a phone and a desk, and on Letter and A4
#     tests/report/look.sh --check
#         makes a report, tags, a logbook, a trend, two records compared and the worksheet of every procedure, and
#         holds them against the Nu Html Checker, axe-core, and the pages they may take; part of .ci/run
#
# It needs a chromium and poppler-utils (Debian: `apt-get install chromium poppler-utils`), and for --check
#     npm install --prefix ~/.cache/tankhand-checkers vnu-jar axe-core
# with a java for the first. What is not there is skipped, and said.
set -euo pipefail
cd "$(dirname "$0")/../.."
checkers=${CHECKERS:-$HOME/.cache/tankhand-checkers}/node_modules
to=$(mktemp -d)
browser=$(command -v chromium || command -v chromium-browser || true)
shot() { "$browser" --headless --no-sandbox --disable-gpu --hide-scrollbars "$@" 2>/dev/null; }
skipped() { echo "SKIPPED: $1" >&2; }

# As PDF; tells how many sheets it takes.
sheets() {
  shot --no-pdf-header-footer --print-to-pdf="${1%.html}.pdf" "file://$1" >/dev/null
  pdfinfo "${1%.html}.pdf" | sed -n 's/^Pages: *//p'
}

# Makes the pages that are checked; tells how many pages of paper each may take.
made() {
  local home=$1 demo work record name
  export TANKHAND_HOME=$home
  cargo build --quiet --locked
  local tankhand=${CARGO_TARGET_DIR:-target}/debug/tankhand
  for demo in flush:waterlogged-tank flush:gritty-tank precharge:spring-check yearly:two-tanks-spring \
    short-cycling:quick-pump add-tank:second-tank precharge:low-again; do
    IFS=: read -r work demo <<<"$demo"
    # Each where no earlier record would be asked about.
    "$tankhand" --home "$home/$demo" run "$work" --system transcripts-demo/$demo/system.toml \
      --answers transcripts-demo/$demo/answers.toml >/dev/null || true
    mkdir -p "$home/records"
    cp "$home/$demo"/records/*.toml "$home/records"
  done
  local records=("$home"/records/*-flush.toml)
  record=$(basename "${records[0]}" .toml)
  "$tankhand" records report "$record" --html "$home/report.html" >/dev/null
  "$tankhand" records report "$record" --without-identity --html "$home/unnamed.html" >/dev/null
  "$tankhand" records compare "$record" "$(basename "${records[1]}" .toml)" --html "$home/compared.html" >/dev/null
  "$tankhand" records tag "$record" --html "$home/tag.html" >/dev/null
  "$tankhand" records tag "$record" --html "$home/tag-a6.html" --a6 >/dev/null
  "$tankhand" logbook --html "$home/logbook.html" >/dev/null
  "$tankhand" trend old --html "$home/trend.html" >/dev/null
  for record in "$home"/records/*.toml; do
    record=$(basename "$record" .toml)
    "$tankhand" records report "$record" --html "$home/one-$record.html" >/dev/null
  done
  printf '%s\n' report:9 unnamed:9 compared:1 tag:1 tag-a6:1 logbook:2 trend:1
  for name in procedures/*.toml; do
    name=$(basename "$name" .toml)
    "$tankhand" sheet "$name" --system transcripts-demo/gritty-tank/system.toml --html "$home/sheet-$name.html" >/dev/null
    case $name in precharge) echo "sheet-$name:1" ;; *) echo "sheet-$name:3" ;; esac
  done
  # A jet pump, in metric units, and two tanks.
  for demo in cottage-jet mountain-hut two-tanks-spring sick-twin; do
    for name in precharge:1 flush:3; do
      "$tankhand" sheet "${name%:*}" --system transcripts-demo/$demo/system.toml --html "$home/$demo-${name%:*}.html" >/dev/null
      echo "$demo-$name"
    done
  done
}

# Says what axe-core finds; nothing where all is well.
axe() {
  local page=${1%.html}.axe
  { sed 's/<\/body>.*//' "$1"; echo '<script>'; cat "$checkers/axe-core/axe.min.js"; echo '</script><script>
    axe.run().then(found => { document.title = "AXE " + JSON.stringify(found.violations.map(one => one.id)) })
    </script></body></html>'; } >"$page"
  mv "$page" "$page.htm"
  shot --virtual-time-budget=20000 --dump-dom "file://$page.htm" | grep -o '<title>AXE[^<]*' | sed 's/.*AXE //'
}

# What axe-core is asked about: a page of each kind.
kinds='report compared tag logbook trend sheet-flush'

check() {
  local wrong=0 pages line name most took found sheet
  pages=$(made "$to")
  if [[ -n $browser ]] && command -v pdfinfo >/dev/null; then
    for line in $pages; do
      IFS=: read -r name most <<<"$line"
      took=$(sheets "$to/$name.html")
      ((took <= most)) || { echo "$name takes $took pages, not $most" >&2; wrong=1; }
    done
    # The finding sheet is one page, with its mark at the end; the record's name is on every one.
    local paper
    for sheet in "$to"/one-*.html; do
      for paper in '8.5in 11in' '210mm 297mm'; do
        sed "s/<\/style>/@page { size: $paper }<\/style>/" "$sheet" >"$to/sized.html"
        sheets "$to/sized.html" >/dev/null
        pdftotext -f 1 -l 1 "$to/sized.pdf" - | grep -q 'End of the finding sheet' ||
          { echo "the finding sheet of $(basename "$sheet") takes more than one page of $paper" >&2; wrong=1; }
      done
    done
    rm "$to/sized.html"
    took=$(pdfinfo "$to/report.pdf" | sed -n 's/^Pages: *//p')
    for ((sheet = 1; sheet <= took; sheet++)); do
      found=$(pdftotext -f $sheet -l $sheet "$to/report.pdf" - | tr '\n' ' ')
      [[ $found =~ record\ [0-9]{8}-[0-9]{4}-flush ]] ||
        { echo "page $sheet of the report does not say whose it is" >&2; wrong=1; }
    done
    echo "pages of paper: none too many"
  else
    skipped "pages are not counted without chromium and poppler-utils"
  fi
  if [[ -n $browser && -e $checkers/axe-core ]]; then
    for name in $kinds; do
      found=$(axe "$to/$name.html")
      [[ $found == '[]' ]] || { echo "$name, axe-core: $found" >&2; wrong=1; }
    done
    echo "axe-core: asked about $kinds"
  else
    skipped "axe-core is not asked; see tests/report/look.sh"
  fi
  if command -v java >/dev/null && [[ -e $checkers/vnu-jar ]]; then
    java -jar "$checkers/vnu-jar/build/dist/vnu.jar" --errors-only "$to"/*[a-z0-9].html || wrong=1
    echo "Nu Html Checker: asked about every page"
  else
    skipped "the Nu Html Checker is not asked; see tests/report/look.sh"
  fi
  rm -r "$to"
  return $wrong
}

pictures() {
  local file=$1 name sheet paper wide high phone sized
  name=$to/$(basename "$file" .html)
  shot --window-size=1280,3600 --screenshot="$name-1280.png" "file://$file" >/dev/null
  # A headless window is never narrower than about 500 pixels, so the phone is a frame in a page.
  phone=$name-phone.html
  printf '<!DOCTYPE html><body style="margin:0"><iframe src="file://%s" style="border:0;width:360px;height:9000px">' \
    "$file" >"$phone"
  shot --allow-file-access-from-files --window-size=500,9000 --screenshot="$name-360.png" "file://$phone" >/dev/null
  rm "$phone"
  for sheet in letter:8.5in:11in a4:210mm:297mm; do
    IFS=: read -r paper wide high <<<"$sheet"
    sized=$name-$paper.html
    sed "s/<\/style>/@page { size: $wide $high }<\/style>/" "$file" >"$sized"
    echo "$(basename "$name") on $paper: $(sheets "$sized") sheets"
    rm "$sized"
    pdftoppm -r 60 -png "$name-$paper.pdf" "$name-$paper"
  done
}

if [[ ${1-} == --check ]]; then
  check
  exit
fi
files=()
while (($#)); do
  case $1 in
    --to) to=$2; mkdir -p "$to"; shift 2 ;;
    *) files+=("$(realpath "$1")"); shift ;;
  esac
done
for file in "${files[@]}"; do pictures "$file"; done
echo "Pictures in $to"
