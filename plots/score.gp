# Measured beside computed: one panel a series.
# In: $series (day, measured, computed; blocks of two blank lines), name_1 ..., $depths (1: a depth),
#     panels; see also months.gp.
canvas_x = 940
canvas_y = 110 + 190 * panels
load folder.'/common.gp'
load folder.'/months.gp'

top = 1.0 - (bare ? 20.0 : 70.0) / canvas_y
foot = 60.0 / canvas_y
tall = (top - foot) / panels
set multiplot
unset key
set border 3
do for [i = 1:panels] {
    set tmargin at screen top - (i - 1) * tall - 22.0 / canvas_y
    set bmargin at screen top - i * tall + 10.0 / canvas_y
    set lmargin at screen 0.09
    set rmargin at screen 0.95
    deep = word($depths[i], 1) + 0 > 0
    set autoscale y
    if (deep) { set yrange [*:*] reverse } else { set yrange [*:*] noreverse }
    axis = deep ? 'depth, '.length_unit : degree
    set ylabel axis
    set label 1 value(sprintf('name_%d', i)) at graph 0.01, graph 1.08 left textcolor rgb ink noenhanced
    if (i == 1) { set title heading_of('Measured and computed', 90) noenhanced } else { unset title }
    if (i == panels) {
        load folder.'/months.gp'
        set key at screen 0.95, screen 0.02 right bottom horizontal Left reverse samplen 4
    } else {
        set xtics ('' first_day)
        do for [k = 1:n_months] { set xtics add ('' word($months[k], 1) + 0) }
    }
    plot $series index i - 1 using 1:3 with lines lc rgb blue lw 2.2 title 'computed', \
         $series index i - 1 using 1:2 with points pt 7 ps 0.45 lc rgb ink title 'measured'
}
unset multiplot
