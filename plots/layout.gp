# The works to scale, without weather: pit, bedding, tank, board, anchors, with their dimensions.
# In: crown, invert, half, round (1 circle, 0 box), pit_bottom, pit_half, pit_slope, the pit's half
#     width below and on its shelf and at grade (shelf, lower_half, upper_half, reach), fill_top and fill_half, board_*, skirt,
#     $anchors, $straps and $axes (see anchors.gp), water_table, and a text for each dimension (x_text)
canvas_x = 940
window_x = reach + 0.14 * reach + 0.3 / scale_m
margin_left = 84.0
margin_right = 20.0
plot_w = canvas_x - margin_left - margin_right
px = 2.0 * window_x / plot_w # of the ground, to a pixel
axis_z(i) = (20 + 14 * i) * px # below the floor, the dimension of an anchor's axis
top = -62.0 * px
bottom = pit_bottom + axis_z(|$axes| > 1 ? |$axes| : 1) + 18.0 * px
plot_h = plot_w * (bottom - top) / (2.0 * window_x)
margin_top = bare == 1 ? 6.0 : 62.0 # two lines of title
margin_bottom = 10.0
canvas_y = int(plot_h + margin_top + margin_bottom)
load folder.'/common.gp'

$outline << EOD
-1 0 0
-1 1 0
1 1 0
1 0 0
-1 0 0

-1 0 1
1 0 1
1 1 1
-1 1 1
-1 0 1
EOD
if (is_text) {
    # Letters show outlines only.
    set xrange [-window_x:window_x]
    set yrange [bottom:top]
    set border 3
    set key off
    eval upright('depth below grade, '.length_unit)
    set title heading_of('Layout', 70) noenhanced
    set label 1 cover_text at 0, crown / 2 center
    set label 2 width_text at 0, (crown + invert) / 2 center
    set label 3 top_text at 0, top * 0.5 center
    plot $outline using ($3 == 0 ? $1 * ($2 > 0 ? pit_half : reach) : $1 * half):\
        ($3 == 0 ? $2 * pit_bottom : crown + $2 * (invert - crown)) with lines
    exit
}
set lmargin at screen margin_left / canvas_x
set rmargin at screen 1.0 - margin_right / canvas_x
set tmargin at screen 1.0 - margin_top / canvas_y
set bmargin at screen margin_bottom / canvas_y
set xrange [-window_x:window_x]
set yrange [bottom:top]
set border 0
unset xtics
set ytics out nomirror
unset grid
eval upright('depth below grade, '.length_unit)
set key off
set title heading_of('Layout to scale', 80) noenhanced

# Pit and what fills it.
set object 1 polygon from -pit_half, pit_bottom to pit_half, pit_bottom to lower_half, shelf \
    to upper_half, shelf to reach, 0 to -reach, 0 to -upper_half, shelf to -lower_half, shelf \
    to -pit_half, pit_bottom behind fc rgb tone_unfrozen fs solid noborder
if (given(bedding_top)) {
    set object 2 polygon from -pit_half, pit_bottom to pit_half, pit_bottom \
        to pit_half + pit_slope * (pit_bottom - bedding_top), bedding_top \
        to -pit_half - pit_slope * (pit_bottom - bedding_top), bedding_top to -pit_half, pit_bottom \
        behind fc rgb concrete fs pattern 2 noborder
    set label 2 bedding_text at pit_half + pit_slope * (pit_bottom - bedding_top) + 8 * px, \
        (pit_bottom + bedding_top) / 2 left front
}
load folder.'/anchors.gp'
do for [i = 1:|$straps|] {
    set arrow 100 + i from word($straps[i], 1) + 0, word($straps[i], 2) + 0 \
        to word($straps[i], 3) + 0, word($straps[i], 4) + 0 nohead front lc rgb ink lw 1.4
}
do for [i = 1:|$axes|] {
    axis_x = word($axes[i], 1) + 0
    set arrow 200 + i from 0, pit_bottom + axis_z(i) to axis_x, pit_bottom + axis_z(i) heads \
        size screen 0.008, 20 filled front lc rgb ink lw 1
    set label 200 + i word($axes[i], 2) at axis_x + 8 * px, pit_bottom + axis_z(i) left front
}
if (|$axes| > 0) {
    set arrow 9 from 0, pit_bottom to 0, pit_bottom + axis_z(|$axes|) + 6 * px nohead lc rgb soft lw 0.7
}
if (round == 1) {
    set object 10 circle at 0, (crown + invert) / 2 size half front fc rgb 'white' fs solid \
        border lc rgb ink lw 2.4
} else {
    set object 10 rectangle from -half, crown to half, invert front fc rgb 'white' fs solid \
        border lc rgb ink lw 2.4
}
if (given(board_half)) {
    set object 11 rectangle from -board_half, board_top to board_half, board_bottom front \
        fc rgb tone_near fs solid border lc rgb ink lw 1.4
    # Over the board, or under it where grade is too near.
    low = board_top < 44 * px
    # Under the board, inside the pit's side, where there is room; never over the pit's line.
    side_at(z) = z < shelf ? upper_half + pit_slope * (shelf - z) : pit_half + pit_slope * (pit_bottom - z)
    text_z = board_bottom + (low ? 46 : 16) * px
    if (side_at(text_z) - half > 180 * px) {
        set label 11 board_text at side_at(text_z) - 10 * px, text_z right boxed front
    } else {
        set label 11 board_text at 0, board_bottom + 26 * px center boxed front
    }
    beyond_z = low ? board_bottom + 14 * px : board_top - 14 * px
    set arrow 11 from half, beyond_z to board_half, beyond_z heads \
        size screen 0.007, 20 filled front lc rgb ink lw 1
    set label 12 beyond_text at (half + board_half) / 2, beyond_z + (low ? 13 : -12) * px center \
        boxed front
}
if (given(board_half) && skirt > 0) {
    do for [s = -1:1:2] {
        set arrow 13 + s from s * board_half, board_bottom to s * board_half, board_bottom + skirt \
            nohead front lc rgb ink lw 3
    }
    set label 13 skirt_text at board_half + 8 * px, board_bottom + 0.6 * skirt left boxed front
}
# Dimensions.
set arrow 20 from -0.45 * half, 0 to -0.45 * half, crown heads size screen 0.008, 20 filled front \
    lc rgb ink lw 1
# Beside its arrow where there is room between grade and crown, else above grade.
if (crown > 60 * px) {
    set label 20 cover_text at -0.45 * half - 8 * px, crown / 2 right boxed front
} else {
    set label 20 cover_text at -0.45 * half, -14 * px center front
}
set arrow 21 from -half, (crown + invert) / 2 to half, (crown + invert) / 2 heads \
    size screen 0.008, 20 filled front lc rgb ink lw 1
set label 21 width_text at 0, (crown + invert) / 2 - 12 * px center boxed front
set label 22 shell_text at 0, (crown + invert) / 2 + 16 * px center front
set arrow 23 from -reach, -38 * px to reach, -38 * px heads size screen 0.008, 20 filled front \
    lc rgb ink lw 1
set label 23 top_text at 0, -49 * px center front
set arrow 24 from -pit_half, pit_bottom + 14 * px to pit_half, pit_bottom + 14 * px heads \
    size screen 0.008, 20 filled front lc rgb ink lw 1
set label 24 floor_text at -pit_half - 6 * px, pit_bottom + 14 * px right front
set arrow 25 from reach + 16 * px, 0 to reach + 16 * px, pit_bottom heads size screen 0.008, 20 \
    filled front lc rgb ink lw 1
# Beside the sides, but not where the water table is drawn.
near_water(z) = given(water_table) && abs(z - (water_table - 5 * px)) < 24 * px
clear(z) = !near_water(z) && pit_slope * z > 145 * px # of the side as well
depth_z = clear(0.62 * pit_bottom) ? 0.62 * pit_bottom : clear(0.76 * pit_bottom) ? 0.76 * pit_bottom : \
    near_water(0.62 * pit_bottom) ? 0.42 * pit_bottom : 0.62 * pit_bottom
slope_z = near_water(0.5 * pit_bottom) ? 0.25 * pit_bottom : 0.5 * pit_bottom
set label 25 depth_text at reach + 8 * px, depth_z right boxed front
set arrow 26 from pit_half, pit_bottom to reach + 24 * px, pit_bottom nohead lc rgb soft lw 0.7
set label 26 slope_text at -(pit_half + pit_slope * (pit_bottom - slope_z)) - 22 * px, slope_z right \
    boxed front
if (given(water_table) && water_table < bottom && water_table > 0) {
    set arrow 27 from -window_x, water_table to window_x, water_table nohead lc rgb blue lw 1.4 dt (16, 7)
    set label 27 water_text at -window_x + 6 * px, water_table - 10 * px left boxed front
}
set label 28 'grade' at -window_x + 6 * px, -12 * px left front

$ground << EOD
-1
1
EOD
plot $pit using ($1 * side_x($2)):(side_z($2)) with lines \
         lc rgb ink lw 1.6, \
     $ground using ($1 * fill_half):(fill_top) with lines lc rgb ink lw 0.9 dt (10, 5), \
     $ground using ($1 * window_x):(0) with lines lc rgb ink lw 2.2
