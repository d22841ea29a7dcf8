#!/usr/bin/env bash
# Shows reports as people will see them: pictures at the widths of a phone and a desk, and on Letter
# and A4. Not part of what must pass; it needs a chromium and, for the pictures of sheets, pdftoppm.
#
#     tests/report/look.sh FILE.html... [--to FOLDER]
#
# Validators are used when they are installed: `vnu` (the Nu Html Checker), `html-validate`, `tidy`
# and `axe` from their usual packages.
set -euo pipefail
to=$(mktemp -d)
files=()
while (($#)); do
  case $1 in
    --to) to=$2; mkdir -p "$to"; shift 2 ;;
    *) files+=("$(realpath "$1")"); shift ;;
  esac
done
browser=$(command -v chromium || command -v chromium-browser || command -v google-chrome)
shot() { "$browser" --headless --no-sandbox --disable-gpu --hide-scrollbars "$@" >/dev/null 2>&1; }

for file in "${files[@]}"; do
  name=$to/$(basename "$file" .html)
  shot --window-size=1200,3600 --screenshot="$name-1200.png" "file://$file"
  # A headless window is never narrower than about 500 pixels, so the phone is a frame in a page.
  phone=$name-phone.html
  printf '<!DOCTYPE html><body style="margin:0"><iframe src="file://%s" style="border:0;width:360px;height:9000px">' \
    "$file" >"$phone"
  shot --allow-file-access-from-files --window-size=500,9000 --screenshot="$name-360.png" "file://$phone"
  rm "$phone"
  for sheet in letter:8.5in:11in a4:210mm:297mm; do
    IFS=: read -r paper wide high <<<"$sheet"
    sized=$name-$paper.html
    sed "s/<\/style>/@page { size: $wide $high }<\/style>/" "$file" >"$sized"
    shot --no-pdf-header-footer --print-to-pdf="$name-$paper.pdf" "file://$sized"
    rm "$sized"
    pages=$(grep -ac '/Type */Page\b' "$name-$paper.pdf" || true)
    echo "$(basename "$name") on $paper: $pages pages"
    if command -v pdftoppm >/dev/null; then pdftoppm -r 60 -png "$name-$paper.pdf" "$name-$paper"; fi
  done
  for checker in "vnu" "html-validate" "tidy -quiet -errors" "axe --exit"; do
    command -v "${checker%% *}" >/dev/null && { echo "$checker:"; $checker "$file" || true; }
  done
done
echo "Pictures in $to"
