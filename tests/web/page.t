# page.t - the report page in a browser: read by eye, by ear, on a phone, in the dark, on paper, without script
#
# Outside judges: axe-core for who cannot see well, html-validate for the markup, xmllint for each drawing, a real browser for the
# rest. They are installed beside the build (web-modules), never into the sources.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

if [ -n "${SIMULATED:-}" ]; then
	echo '1..0 # SKIP looked at already, before the tarball was made'
	exit 0
fi
need node npm xmllint
browser=$(command -v chromium || command -v chromium-browser) || missing chromium
web=$top_srcdir/tests/web
modules=$builddir/web-modules
export browser modules
# Debian's node knows its own certificates only; whoever added one to the system's means it for this, too, and a bundle made anew may lack it
certificates=$tmp/certificates
cat /etc/ssl/certs/*.pem /etc/ssl/certs/*.crt >"$certificates" 2>/dev/null
[ ! -s "$certificates" ] || export NODE_EXTRA_CA_CERTS=$certificates npm_config_cafile=$certificates

if ! cmp -s "$web/package-lock.json" "$modules/installed"; then
	rm -rf "$modules"
	mkdir -p "$modules" && cp "$web/package.json" "$web/package-lock.json" "$modules" && chmod u+w "$modules"/*
	(cd "$modules" && npm ci --ignore-scripts --no-audit --no-fund --no-update-notifier) >"$tmp/npm" 2>&1 || {
		sed 's/^/# /' "$tmp/npm"
		missing 'what npm ci installs'
	}
	cp "$web/package-lock.json" "$modules/installed"
fi

# ---- the pages, and the data they are held to ----

json() { # NAME COMMAND...
	local name=$1
	shift
	"$AFTERBOIL" "$@" --format json >"$tmp/$name.json" 2>/dev/null
	[ $? -le 1 ] || echo "# no data: $*"
}
cp -R "$top_srcdir/examples" "$tmp/journals"
chmod -R u+w "$tmp/journals"
# advice given earlier and followed, so that a promise stands beside what came
sed -i 's/what="cap-on-foam"/what="longer-warm-rest"/' "$tmp"/journals/12*.xml
"$AFTERBOIL" advise "$tmp"/journals/0[1-4]*.xml --profile "$tmp/journals/profile.xml" --store "$tmp/store.db" >"$tmp/advice" 2>/dev/null
"$AFTERBOIL" report "$tmp/journals" --store "$tmp/store.db" -o "$tmp/page.html" 2>"$tmp/err"
ok 'the page is there' test -s "$tmp/page.html"
cp "$tmp/store.db" "$tmp/copy.db"
json diagnose diagnose "$tmp/journals"
json advise advise "$tmp/journals" --no-store
json trend trend "$tmp/journals" --store "$tmp/copy.db"
json compare compare house-pale-5 house-pale-6 "$tmp/journals"
sed 's/units="[a-z]*"/units="us"/' "$top_srcdir/examples/profile.xml" >"$tmp/journals/profile.xml"
"$AFTERBOIL" report "$tmp/journals" --no-store -o "$tmp/us.html" 2>/dev/null
"$AFTERBOIL" report "$top_srcdir/examples/12-house-pale.xml" --no-store -o "$tmp/one.html" 2>/dev/null
sed '/<tasting/,$d' "$top_srcdir/examples/12-house-pale.xml" >"$tmp/young.xml"
echo '</batch>' >>"$tmp/young.xml"
"$AFTERBOIL" report "$tmp/young.xml" --no-store -o "$tmp/young.html" 2>/dev/null

# strangers' journals: markup, quotes, letters that run the other way, signs that end a line, a word without an end
long=$(printf 'x%.0s' $(seq 300))
for n in 1 2 3; do
	cat >"$tmp/evil$n.xml" <<-E
		<batch xmlns="urn:afterboil:journal:1" id="evil-$n" line="&lt;/section&gt;&#x202E;evil" brewed="203$n-01-01"
			title="&lt;script&gt;window.pwned=1&lt;/script&gt;&lt;img src=x onerror=&quot;window.pwned=1&quot;&gt;" family="wheat">
		<note>$long</note>
		<change adopted="yes">&lt;/text&gt;&lt;/svg&gt;&lt;script&gt;window.pwned=1&lt;/script&gt; \$$long</change>
		<vessel id="v" kind="bucket"/>
		<reading at="+1d" gravity="1.020 SG"/><reading at="+2d" gravity="1.010 SG"/>
		<tasting at="203$n-02-01" complete="yes"><found fault="buttery" intensity="4"/><note>&lt;iframe src=&quot;x&quot;/&gt;</note></tasting>
		</batch>
	E
done
"$AFTERBOIL" report "$tmp"/evil*.xml --no-store -o "$tmp/evil.html" >"$tmp/out" 2>"$tmp/err"
ok "strangers' journals are read" test -s "$tmp/evil.html"

# ---- each drawing alone ----

for page in page us evil; do
	awk -v to="$tmp/$page" '/<svg /{n++; on=1} on{print > (to "-" n ".svg")} /<\/svg>/{on=0; close(to "-" n ".svg")}' "$tmp/$page.html"
	sed -i '1s/^.*<svg /<svg xmlns="http:\/\/www.w3.org\/2000\/svg" /; s/<\/svg>.*/<\/svg>/' "$tmp/$page"-*.svg
	ok "$page: each drawing is well-formed" xmllint --noout "$tmp/$page"-*.svg
done
ok 'there are drawings of all kinds' test "$(ls "$tmp"/page-*.svg | wc -l)" -ge 20

# ---- and all of it in the browser ----

well() { # STATE DETAIL
	[ "$1" = yes ] || { echo "$2"; false; }
}
node "$web/look.js" "$tmp" >"$tmp/looked" 2>"$tmp/err"
status=$?
while IFS='	' read -r state title detail; do
	[ -z "$title" ] || ok "$title" well "$state" "$detail"
done <"$tmp/looked"
[ -z "${TIMED:-}" ] || sed 's/^/# /' "$tmp/err"
ok 'the look at it came to its end' same 0 "$status"
plan
