# The section through the winter, a frame every few days, and below it the air with a mark at the
# frame's day. To scale, depth downward, the same tones in every frame.
# In: all of works.gp; n_frames, $tones1 ... with $tone_of1 ... and n_tones1 ..., $zero1 ..., $hatch1 ...;
#     $headings, $waters, $ices (one line a frame), $marks (day, air), $air (day, air), $levels (where the
#     tones part), n_levels, zero_level (which of them is freezing); months.gp

if (strstrt(GPVAL_TERMINALS, ' gif ') == 0) {
    exit error 'this gnuplot was built without its gif terminal: the animation cannot be drawn with it'
}
margin_left = 70.0
margin_right = 30.0
margin_top = 62.0
strip_y = 84.0
strip_low = 92.0
margin_bottom = strip_low + strip_y + 66.0
canvas_x = 760.0
span_x = 2.0 * window_x
span_z = window_z - window_top
scale = (canvas_x - margin_left - margin_right) / span_x
if (scale * span_z > 460.0) { scale = 460.0 / span_z }
side = (canvas_x - margin_left - margin_right - scale * span_x) / 2.0
canvas_y = scale * span_z + margin_top + margin_bottom
load folder.'/common.gp'
px = 1.0 / scale
step = length_unit eq 'ft' ? 2.0 : 0.5
at(x) = x / canvas_x
up(y) = y / canvas_y

# From cold to warm: dark to light below freezing (hatched too), light to ochre above it.
array band[8] = ['#5b84ab', '#84a5c3', '#a9c0d6', '#c9d8e6', '#eef2f4', '#f6f1e7', '#efe3c6', '#e5d1a0']
bar = 52.0
bar_x = canvas_x / 2.0 - (n_levels + 1) * bar / 2.0
array tone[400]
do for [f = 1:n_frames] {
    set multiplot
    set lmargin at screen at(margin_left + side)
    set rmargin at screen 1.0 - at(margin_right + side)
    set tmargin at screen 1.0 - up(margin_top)
    set bmargin at screen up(margin_bottom)
    set border 2 lc rgb soft
    unset grid
    unset key
    set xrange [-window_x:window_x]
    set yrange [window_z:window_top]
    unset xtics
    unset ytics
    set xtics () offset 0, 0.3 textcolor rgb ink nomirror out
    do for [i = -int(window_x / (2 * step)):int(window_x / (2 * step))] {
        set xtics add (sprintf('%g', abs(i * 2 * step)) i * 2 * step)
    }
    set ytics 0, step textcolor rgb ink nomirror out
    set xlabel across_text.', '.length_unit offset 0, 0.4
    set ylabel 'depth below grade, '.length_unit
    line = $headings[f]
    set title line[2:strlen(line) - 2].second_line(90) noenhanced
    set object 1 rectangle from -window_x, 0 to window_x, window_z behind \
        fc rgb band[n_levels + 1] fs solid noborder
    load folder.'/works.gp'
    if (given(tank_half)) {
        line = $waters[f]
        set label 21 line[2:strlen(line) - 2] at 0, (crown + invert) / 2 center front
        line = $ices[f]
        set label 22 line[2:strlen(line) - 2] at 0, (crown + invert) / 2 + 20 * px center front
    }
    # The tones' bar at the foot.
    do for [k = 1:n_levels + 1] {
        set object 50 + k rectangle from screen at(bar_x + bar * (k - 1)), up(26) \
            to screen at(bar_x + bar * k), up(42) front fc rgb band[k] fs solid border lc rgb soft
        if (k <= zero_level) {
            do for [h = 0:3] {
                set arrow 100 + 4 * k + h from screen at(bar_x + bar * (k - 1) + 13 * h + 2), up(27) \
                    to screen at(bar_x + bar * (k - 1) + 13 * h + 11), up(41) nohead front \
                    lc rgb hatch_ink lw 0.8
            }
        }
        if (k <= n_levels) {
            set label 50 + k $levels[k] at screen at(bar_x + bar * k), up(14) center front
        }
    }
    set label 70 degree at screen at(bar_x + bar * (n_levels + 1) - 20), up(14) left front
    set label 71 'ground:' at screen at(bar_x - 10), up(34) right front
    n_tones = value(sprintf('n_tones%d', f))
    do for [i = 1:n_tones] {
        eval sprintf('tone[%d] = int(word($tone_of%d[%d], 1))', i, f, i)
    }
    eval sprintf('plot for [i = 1:n_tones] $tones%d index i - 1 using 1:2 with filledcurves closed', f).\
        ' fc rgb band[tone[i] + 1] fs solid noborder notitle,'.\
        sprintf(' $hatch%d using 1:2 with lines lc rgb hatch_ink lw 0.8 notitle, ', f).\
        works_under.sprintf(', $zero%d using 1:2 with lines lc rgb ink lw 3 notitle, ', f).works_over
    unset label
    unset arrow
    unset object

    set lmargin at screen at(margin_left)
    set rmargin at screen 1.0 - at(margin_right)
    set tmargin at screen up(strip_low + strip_y)
    set bmargin at screen up(strip_low)
    set border 3
    unset title
    unset xlabel
    set yrange [*<freezing:freezing<*]
    set ylabel 'air, '.degree
    load folder.'/months.gp'
    unset ytics
    set ytics 20 textcolor rgb ink nomirror out
    plot freezing with lines lc rgb soft lw 1 notitle, \
         $air using 1:2 with lines lc rgb blue lw 1.2 notitle, \
         $marks every ::(f - 1)::(f - 1) using 1:2 with points pt 7 ps 1.4 lc rgb ink notitle
    unset arrow
    unset multiplot
}
