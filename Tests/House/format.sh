#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Every C++ file stands as clang-format leaves it. Mend with: sh Tests/House/format.sh --mend
cd "$(dirname "$0")/../.." || exit 1
case ${1-} in
    --mend) how=-i ;;
    *) how="--dry-run -Werror" ;;
esac
# shellcheck disable=SC2086 # two words
find Source Tests \( -name '*.h' -o -name '*.cpp' \) -print0 | xargs -0 clang-format --style=file $how
