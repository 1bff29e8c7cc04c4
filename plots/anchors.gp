# Bodies of concrete that hold the tank down, one rectangle a row.
# In: $anchors (left, top, right, bottom)
do for [i = 1:|$anchors|] {
    set object 100 + i rectangle from word($anchors[i], 1) + 0, word($anchors[i], 2) + 0 \
        to word($anchors[i], 3) + 0, word($anchors[i], 4) + 0 front fc rgb concrete fs solid border lc rgb ink
}
