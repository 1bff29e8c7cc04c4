# Cost (upward) against cover (across), a line for each thickness of board. Of each pair the cheapest
# option that is robust, else that meets every limit, else that was priced: a full mark is robust, an
# open one meets every limit in the design case, a cross does not; the recommended option is ringed.
# In: $line1 ... (cover, cost, state 0 to 2, recommended), n_lines, $names, least_cover, most_cover,
#     currency
canvas_x = 860
canvas_y = 520
load folder.'/common.gp'

set border 3
line(i) = sprintf('$line%d', i)
name(i) = $names[i][2:strlen($names[i]) - 2]
array tones[3] = [ink, blue, orange]
room = most_cover > least_cover ? 0.06 * (most_cover - least_cover) : 0.5 * most_cover + 0.1
set xrange [least_cover - room:most_cover + room]
set yrange [*:*]
set offsets 0, 0, graph 0.06, graph 0.04
set format y '%.0f'
set xlabel 'cover over the tank, '.length_unit
eval upright('cost'.(strlen(currency) > 0 ? ', '.currency : ''))
set title heading_of('Cost against cover', 80) noenhanced
if (is_text) {
    set key outside right top
    set label 1 'o every limit met   x some limit not met   (o) recommended' at screen 0.05, screen 0.04 left
    set bmargin 6
} else {
    set key outside right top Left reverse samplen 3 title 'board' noenhanced
    set rmargin 20
    set bmargin at screen 0.2
    legend_y = 0.045
    set object 1 circle at screen 0.09, screen legend_y size screen 0.0065 front fc rgb ink fs solid
    set label 1 'robust' at screen 0.105, screen legend_y left
    set object 2 circle at screen 0.19, screen legend_y size screen 0.0065 front fc rgb ink fs empty border lw 1.6
    set label 2 'met in the design case alone' at screen 0.205, screen legend_y left
    set label 3 'x' at screen 0.475, screen legend_y + 0.003 center textcolor rgb ink font ',14'
    set label 4 'some limit not met' at screen 0.49, screen legend_y left
    set object 3 circle at screen 0.7, screen legend_y size screen 0.011 front fc rgb ink fs empty border lw 2
    set label 5 'recommended' at screen 0.72, screen legend_y left
}
if (is_text) {
    plot for [i = 1:n_lines] line(i) using 1:2 with lines title name(i), \
        for [i = 1:n_lines] line(i) using 1:2:($3 == 0 ? 'x' : $4 == 1 ? '(o)' : 'o') with labels notitle
} else {
    plot for [i = 1:n_lines] line(i) using 1:2 with lines lw 1.8 lc rgb tones[1 + (i - 1) % 3] \
            dt 1 + (i - 1) % 5 title name(i), \
        for [i = 1:n_lines] line(i) using 1:($3 == 2 ? $2 : NaN) with points pt 7 ps 1.4 \
            lc rgb tones[1 + (i - 1) % 3] notitle, \
        for [i = 1:n_lines] line(i) using 1:($3 == 1 ? $2 : NaN) with points pt 6 ps 1.4 lw 1.6 \
            lc rgb tones[1 + (i - 1) % 3] notitle, \
        for [i = 1:n_lines] line(i) using 1:($3 == 0 ? $2 : NaN) with points pt 2 ps 1.2 lw 1.6 \
            lc rgb tones[1 + (i - 1) % 3] notitle, \
        for [i = 1:n_lines] line(i) using 1:($4 == 1 ? $2 : NaN) with points pt 6 ps 3.4 lw 2.4 \
            lc rgb ink notitle
}
