# Factor of safety against flotation (across) with the water table at each depth (downward).
# In: $levels (factor, depth), $limits (value, text), limit (the largest), deepest, shallowest, crown, invert, highest
canvas_x = 640 * small
canvas_y = 560 * (1 + small) / 2
load folder.'/common.gp'

stats $levels using 1 nooutput name 'factor'
most = factor_max
if (given(limit) && most > 3 * limit) { most = 3 * limit }
if (given(limit) && most < limit) { most = limit }
set xrange [0:most * 1.08]
set yrange [deepest + 0.12 * (deepest - shallowest):shallowest - 0.06 * (deepest - shallowest)]
set border 3
set key off
set xlabel 'factor of safety against flotation'.(small < 1 ? '' : ' (tank empty, buoyant weights)')
eval upright('depth of the water table, '.length_unit)
set title heading_of('Flotation', 70) noenhanced
if (given(limit)) {
    set object 1 rectangle from 0, graph 0 to limit, graph 1 behind fc rgb tone_near fs solid noborder
    do for [i = 1:|$limits|] {
        at = word($limits[i], 1) + 0
        set arrow 100 + i from at, graph 0 to at, graph (is_text ? 0.95 : 1.0) nohead lc rgb ink lw 1.6 \
            dt (12, 5, 2, 5) front
        set label 100 + i word($limits[i], 2) at at, graph 0.03 * i left offset char 0.6, 0 front
    }
    set label 2 'not enough' at 0, graph 0.03 left offset char 0.8, 0 front
}
# Names stand over their lines, at the right; of two lines that nearly meet, the lower one's below it.
near(a, b) = given(a) && given(b) && abs(a - b) < 0.07 * (deepest - shallowest)
side(v, other) = near(v, other) && v >= other ? -0.6 : 0.6
table_side = near(highest, crown) ? (highest > crown ? -0.6 : 0.6) : side(highest, invert)
if (given(crown)) {
    set arrow 2 from 0, crown to most * 1.08, crown nohead lc rgb soft lw 1.2
    set label 3 'crown' at most * 1.08, crown right offset char -0.3, side(crown, highest) front
}
if (given(invert)) {
    set arrow 3 from 0, invert to most * 1.08, invert nohead lc rgb soft lw 1.2
    set label 4 'invert' at most * 1.08, invert right offset char -0.3, \
        (near(invert, highest) && invert > highest ? -0.6 : 0.6) front
}
if (given(highest)) {
    set arrow 4 from 0, highest to most * 1.08, highest nohead lc rgb blue lw 1.6 dt (16, 7)
    set label 5 'highest water table' at most * 1.08, highest right offset char -0.3, table_side front
}
plot $levels using 1:2 with linespoints lc rgb blue lw 2.4 pt 7 ps 0.8
