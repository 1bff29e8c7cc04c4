# Freezing index of every winter on file; a winter with gaps has no bar.
# In: $winters (first year, index), $levels (index, label height, text), n_levels, first_winter,
#     last_winter, top, station
canvas_x = 940
canvas_y = 500
load folder.'/common.gp'

set border 3
set key off
set xrange [first_winter - 1:last_winter + 1]
set yrange [0:top * 1.12]
set xlabel 'winter that begins in'
eval upright('air freezing index, '.degree.' day')
set title (bare ? '' : "Winters on file\n".place_of(station, 96).tail) noenhanced
set rmargin 22
bar = 0.7
set style fill solid border rgb soft
set boxwidth bar
do for [i = 1:n_levels] {
    design = strstrt($levels[i], 'design') > 0
    height = word($levels[i], 1) + 0
    spot = word($levels[i], 2) + 0
    row = $levels[i]
    name = row[strstrt(row, '"') + 1:strlen(row) - 2]
    if (design) {
        set arrow i from first_winter - 1, height to last_winter + 1, height nohead \
            lc rgb ink lw 2.4 front
    } else {
        set arrow i from first_winter - 1, height to last_winter + 1, height nohead \
            lc rgb ink lw 1 dt (10, 5) front
    }
    set label i sprintf('%s  %.0f', name, height) at last_winter + 1, spot left offset char 0.7, 0
}
if (is_text) {
    plot $winters using 1:2 with impulses lt 1
} else {
    plot $winters using 1:2 with boxes fc rgb tone_frozen
}
