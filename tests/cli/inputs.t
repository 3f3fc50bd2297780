# inputs.t - what is read: files, folders, standard input, the profile beside or above, and which batches are kept
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
. "$top_srcdir/tests/cli/lib.sh"

ids() { sed -n 's/^Facts of batch \([^,]*\),.*/\1/p' "$tmp/out" | xargs; }
shown() { # WANTED TITLE ARGS...
	local wanted=$1 title=$2
	shift 2
	run facts "$@" $small
	ok "$title" same "$wanted" "$(ids)"
}
shown 'pale-1 pale-2 pale-3 pale-4' 'a folder' "$data/brewery"
shown 'pale-1 pale-2 pale-3 pale-4' 'a folder with a slash' "$data/brewery/"
shown 'pale-2 pale-3' 'files come in order of date, not as named' "$data/brewery/pale-3.xml" "$data/brewery/pale-2.xml"
shown 'pale-3 pale-4' 'the last two' "$data/brewery" --last 2
shown 'pale-1 pale-2 pale-3 pale-4' 'more than there are' "$data/brewery" --last 9
shown 'pale-1 pale-4' 'two by name' "$data/brewery" --batch pale-4 --batch pale-1
shown 'pale-1 pale-2 pale-3 pale-4' 'a line' "$data/brewery" --line 'shed pale'
shown 'pale-1 pale-2 pale-3 pale-4' 'a line by its beginning' "$data/brewery" --line Shed
shown '' 'no such line' "$data/brewery" --line moor
shown 'pale-1 pale-2 pale-3 pale-4' 'options after files' --width 90 "$data/brewery" --color never

# the profile: beside the journals, one folder up, or as named; the nearest wins
mkdir -p "$tmp/b/journals"
cp "$data/brewery/pale-1.xml" "$tmp/b/journals/"
units() { # WANTED TITLE ARGS...
	local wanted=$1 title=$2
	shift 2
	run facts "$@" $small --width 200
	ok "$title" says out "^  ferment\\.early-mean = [0-9.]+ [^ ]+ [0-9.]+ $wanted:"
}
units C 'no profile: metric' "$tmp/b/journals"
cp "$data/us.xml" "$tmp/b/profile.xml"
units F 'one folder up' "$tmp/b/journals"
units F 'for a file as for its folder' "$tmp/b/journals/pale-1.xml"
cp "$data/brewery/profile.xml" "$tmp/b/journals/profile.xml"
units C 'the one beside the journals is nearer' "$tmp/b/journals"
units F 'the one that is named is nearest' "$tmp/b/journals" --profile "$data/us.xml"
(cd "$tmp/b/journals" && "$AFTERBOIL" facts pale-1.xml $small) >"$tmp/out" 2>&1
ok 'a file without a folder in its name' same pale-1 "$(ids)"
run facts "$tmp/b/journals" $small --profile "$tmp/none.xml"
ok 'a named profile must be there' test "$status" -ge 3
rm -f "$tmp/b/journals/profile.xml" # the copy is read-only where the sources are
echo '<brewery xmlns="urn:afterboil:profile:1" units="furlongs"/>' >"$tmp/b/journals/profile.xml"
run facts "$tmp/b/journals" $small
ok 'a wrong profile is bad input' same 3 "$status"
ok 'its file and line' says err 'profile.xml:1: '
rm "$tmp/b/journals/profile.xml"

# what is no journal in a folder
echo 'not xml at all' >"$tmp/b/journals/notes.txt"
echo '<?xml version="1.0"?><!-- > --><other/>' >"$tmp/b/journals/other.xml"
printf '\357\273\277<?xml version="1.0"?>\n<!DOCTYPE x>\n<x:thing xmlns:x="urn:x"/>' >"$tmp/b/journals/thing.xml"
cp "$data/brewery/pale-2.xml" "$tmp/b/journals/.hidden.xml"
shown pale-1 'other files, and hidden ones, are passed over' "$tmp/b/journals"
echo '<j:batch xmlns:j="urn:afterboil:journal:1" id="pre" brewed="2031-01-12"/>' >"$tmp/b/journals/prefixed.xml"
shown 'pale-1 pre' 'a prefix is no hindrance' "$tmp/b/journals"
echo 'garbage' >"$tmp/b/journals/garbage.xml"
run facts "$tmp/b/journals" $small
ok 'what cannot be told is read, and its error seen' same 3 "$status"
rm "$tmp/b/journals/garbage.xml"
ln -s "$tmp/b/journals" "$tmp/b/journals/loop"
shown 'pale-1 pre' 'a folder in a folder is not entered' "$tmp/b/journals"
mkdir "$tmp/b/journals/folder.xml" && mkfifo "$tmp/b/journals/pipe.xml"
shown 'pale-1 pre' 'nor what is only named like a file, folder or pipe' "$tmp/b/journals"
if [ "$(id -u)" -ne 0 ]; then
	chmod 000 "$tmp/b/journals/prefixed.xml"
	run facts "$tmp/b/journals" $small
	ok 'what may not be read is system trouble' same 4 "$status"
fi
"$AFTERBOIL" facts - "$data/brewery/pale-2.xml" $small <"$data/brewery/pale-1.xml" >"$tmp/out" 2>&1
ok 'standard input beside a file' same 'pale-1 pale-2' "$(ids)"
plan
