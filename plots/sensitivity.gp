# The decisive margin in every sensitivity case, as a tornado chart: bars from the margin of the design
# case, the worst case at the top. Left of zero the limit is not met.
# In: $cases (row from the top, margin, every limit met, name, what is said beside it), n_cases, own
#     with own_text, margin_text
canvas_x = 860 * small
canvas_y = (190 + 28 * n_cases) * (1 + small) / 2
load folder.'/common.gp'
if (is_text) { set terminal dumb noenhanced mono size 79, 10 + 2 * n_cases aspect 2 }

stats $cases using 2 nooutput name 'left'
low = left_min < own ? left_min : own
high = left_max > own ? left_max : own
if (low > 0) { low = 0 }
if (high < 0) { high = 0 }
span = high > low ? high - low : 1
set xrange [low - (is_text ? 0.05 : 0.03) * span:high + 0.42 * span]
set yrange [n_cases + 1.5:0.2]
set border 1
set key off
unset ytics
set ytics () scale 0 nomirror textcolor rgb ink
do for [i = 1:n_cases] { set ytics add (word($cases[i], 4) i) }
if (!is_text) { set grid xtics lc rgb '#dddddd' lt 1 lw 0.6; set lmargin 18 }
set xlabel margin_text
set title heading_of('Sensitivity', 80) noenhanced
set object 1 rectangle from graph 0, graph 0 to 0, graph 1 behind fc rgb tone_near fs solid noborder
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lc rgb ink lw 1.6 front
set arrow 2 from own, graph 0 to own, graph 1 nohead lc rgb dim lw 1.2 dt (8, 5) front
set label 1 own_text at own, n_cases + 1 left offset 0.8, 0 front
half = 0.32
right_of(v) = (v > own ? v : own) + 0.012 * span
if (is_text) {
    plot $cases using 2:1 with points pt '#', \
        $cases using (right_of($2)):1:5 with labels left offset 1, 0
} else {
    plot $cases using (own):1:(own < $2 ? own : $2):(own < $2 ? $2 : own):($1 - half):($1 + half) \
            with boxxyerror fc rgb tone_frozen fs solid border lc rgb hatch_ink, \
        $cases using (own):($3 == 0 ? $1 : NaN):(own < $2 ? own : $2):(own < $2 ? $2 : own):($1 - half):($1 + half) \
            with boxxyerror fc rgb orange fs solid border lc rgb ink, \
        $cases using (right_of($2)):1:5 with labels left font ',10' textcolor rgb ink
}
