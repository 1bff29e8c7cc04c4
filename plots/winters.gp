# Freezing index of every winter on file; a winter with gaps has no bar.
# The three coldest of the latest thirty, a usual design index, are darker.
# In: $winters (first year, index, one of those three), has_coldest, $levels (index, label height, text), n_levels, first_winter,
#     last_winter, top, station
canvas_x = 940 * small
canvas_y = 500 * (1 + small) / 2
load folder.'/common.gp'

set border 3
set key off
set xrange [first_winter - 1:last_winter + 1]
set yrange [0:top * 1.16]
if (last_winter - first_winter < 8) { set xtics 1 }
set xlabel 'winter that begins in'.(is_text && has_coldest ? ';  #: three coldest of the latest thirty' : '')
eval upright('air freezing index, '.degree.' day')
set title (bare ? '' : "Winters on file\n".place_of(station, is_text ? 46 : 96).tail) noenhanced
set rmargin is_text ? 25 : 24
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
    plot $winters using 1:2 with impulses lt 1, \
         $winters using 1:($3 == 1 ? $2 : NaN) with impulses lt 2    # "#": three coldest of the latest thirty
} else {
    set key top left Left reverse samplen 2 width 1
    plot $winters using 1:2 with boxes fc rgb tone_frozen notitle, \
         $winters using 1:($3 == 1 ? $2 : NaN) with boxes fc rgb hatch_ink \
             title (has_coldest ? 'three coldest of the latest thirty' : '')
}
