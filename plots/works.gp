# The works of a section, drawn alike by section.gp and animation.gp: objects and labels, and the two
# lists of what a plot command draws under and over the 0 degC line.
# In: px (one pixel in the picture's length); is_long; crown, invert, tank_half, level_x, level_z; board_*,
#     skirt; water_table; pit_*; $anchors; $tank, $risers, $sleeves, sleeve_x, sleeve_z, $pipes, $pipe_names, $probes (numbered);
#     risers_left; their texts. NaN: not there.

load folder.'/anchors.gp'

# Board: white with its own outline; the 0 degC line stays visible on it.
if (given(board_half)) {
    set label 20 board_text at board_half + 10 * px, (board_top + board_bottom) / 2 left boxed front
}
if (given(tank_half)) {
    dim_x = (is_long ? -0.8 : -0.55) * tank_half
    dim_x = dim_x < risers_left - 20 * px ? dim_x : risers_left - 20 * px
    set arrow 20 from dim_x, 0 to dim_x, crown heads size screen 0.008, 20 filled front \
        lc rgb ink lw 1
    set arrow 21 from dim_x - 14 * px, crown to 0, crown nohead front lc rgb ink lw 0.6
    set label 23 cover_text at dim_x + 8 * px, window_top * 0.42 right front
    if (given(level_x)) {
        set arrow 22 from -level_x, level_z to level_x, level_z nohead front lc rgb blue lw 1.2
    }
}
if (given(sleeve_x)) {
    set label 25 sleeve_text at sleeve_x + 8 * px, sleeve_z left boxed front
}
set label 24 'grade' at -window_x + 6 * px, window_top * 0.42 left front

# The mark of the water table: the usual triangle over its line.
if (given(water_table) && water_table < window_z) {
    mark = -window_x + 34 * px
    set object 30 polygon from mark, water_table to mark - 8 * px, water_table - 13 * px \
        to mark + 8 * px, water_table - 13 * px to mark, water_table front \
        fc rgb 'white' fs solid border lc rgb blue lw 1.4
    set arrow 31 from mark - 5 * px, water_table + 4 * px to mark + 5 * px, water_table + 4 * px \
        nohead front lc rgb blue
    set label 30 table_text at mark + 16 * px, water_table - 12 * px left boxed front
}

$ground << EOD
-1 0
1 0
EOD
$board << EOD
-1 0
1 0
1 1
-1 1
-1 0
EOD
$skirts << EOD
-1 0
-1 1

1 0
1 1
EOD
# A probe's number beside it, towards the tank's middle: a board's name stands beside its edge.
probe_z(z) = z + (z > (crown + invert) / 2 ? -11 : 11) * px
# A pipe's name over it, or below where it would stand on the board's.
name_z(top, bottom) = given(board_half) && abs(top - 10 * px - (board_top + board_bottom) / 2) < 24 * px \
    ? bottom + 10 * px : top - 10 * px
board_z(v) = v > 0 ? board_bottom : board_top
# The gif terminal knows no dashes but the dots of linetype 0.
pit_line = is_gif ? 'lt 0 lc rgb ink' : 'lc rgb ink lw 0.9 dt (10, 5, 2, 5)'
table_line = is_gif ? 'lt 0 lw 2 lc rgb blue' : 'lc rgb blue lw 1.6 dt (16, 7)'
works_under = "$pit using ($1 * side_x($2)):(side_z($2))".\
    " with lines ".pit_line." notitle,".\
    " $ground using ($1 * fill_half):(fill_top) with lines ".pit_line." notitle,".\
    " $ground using ($1 * window_x):(water_table) with lines ".table_line." notitle,".\
    " $board using ($1 * board_half):(board_z($2)) with filledcurves closed fc rgb 'white'".\
    " fs solid noborder notitle,".\
    " $board using ($1 * board_half):(board_z($2)) with lines lc rgb ink lw 1.4 notitle,".\
    " $skirts using ($1 * board_half):(board_bottom + $2 * skirt) with lines lc rgb ink lw 3 notitle"
works_over = "$ground using ($1 * window_x):(0) with lines lc rgb ink lw 2.2 notitle,".\
    " $pipes using 1:2 with filledcurves closed fc rgb 'white' fs solid noborder notitle,".\
    " $pipes using 1:2 with lines lc rgb ink lw 1.2 notitle,".\
    " $pipe_names using (window_x - 8 * px):(name_z($1, $2)):3 with labels right boxed notitle,".\
    " $sleeves using 1:2 with filledcurves closed fc rgb foam fs solid noborder notitle,".\
    " $sleeves using 1:2 with lines lc rgb ink lw 1 notitle,".\
    " $risers using 1:2 with filledcurves closed fc rgb 'white' fs solid noborder notitle,".\
    " $risers using 1:2 with lines lc rgb ink lw 1.6 notitle,".\
    " $tank using 1:2 with filledcurves closed fc rgb 'white' fs solid noborder notitle,".\
    " $tank using 1:2 with lines lc rgb ink lw 2.2 notitle,".\
    " $probes using 1:2 with points pt 2 ps 1 lc rgb ink notitle,".\
    " $probes using ($1 + 8 * px):(probe_z($2)):(sprintf('%d', $3)) with labels left boxed notitle"
