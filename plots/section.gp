# The section through the tank on the day when most ground is frozen, to scale, depth downward.
# In: window_x, window_z, window_top; crown, invert, tank_half, level_x, level_z; board_*, skirt;
#     water_table; pit_*; $anchors; $tones with $tone_of and n_tones, $zero, $hatch,
#     $isotherms, $isotherm_labels, $soil_<mark>, $soils, $tank, $probes (numbered), $notes with n_notes; heading and the other texts. Lengths in length_unit. NaN: not there.

margin_left = 96.0
margin_right = 24.0
margin_top = bare ? 42.0 : 62.0
legend_rows = small < 0.9 ? 2 : 1
margin_bottom = 76.0 + 20.0 * (n_notes + legend_rows)
span_x = 2.0 * window_x
span_z = window_z - window_top
canvas_x = 940.0 * small
scale = (canvas_x - margin_left - margin_right) / span_x
if (scale * span_z > 640.0 * small) { scale = 640.0 * small / span_z }
side = (canvas_x - margin_left - margin_right - scale * span_x) / 2.0
canvas_y = scale * span_z + margin_top + margin_bottom
load folder.'/common.gp'

step = length_unit eq 'ft' ? 2.0 : 0.5
set xrange [-window_x:window_x]
set yrange [window_z:window_top]
# Distances to both sides of the axis; none is negative.
set xtics () offset 0, 0.3
do for [i = -int(window_x / (2 * step)):int(window_x / (2 * step))] {
    set xtics add (sprintf('%g', abs(i * 2 * step)) i * 2 * step)
}
set ytics 0, step
eval upright('depth below grade, '.length_unit)
set title heading.second_line(90) noenhanced
unset grid
unset key

$flat << EOD
-1
1
EOD
if (is_text) {
    set size ratio -1
    set border 3
    set key below horizontal samplen 4
    set xlabel across_text.', '.length_unit
    has_table = given(water_table) && water_table < window_z
    plot $flat using ($1 * window_x):(0) with lines lt 4 notitle, \
         $flat using ($1 * window_x):(has_table ? water_table : NaN) with lines lt 3 \
             title (has_table ? 'water table' : ''), \
         $flat using ($1 * board_half):((board_top + board_bottom) / 2) with lines lt 5 \
             title (given(board_half) ? 'board' : ''), \
         $tank using 1:2 with lines lt 2 title (given(tank_half) ? 'tank' : ''), \
         $zero using 1:2 with lines lt 1 title sprintf('%g', freezing).' '.degree.' line'
    exit
}

set lmargin at screen (margin_left + side) / canvas_x
set rmargin at screen 1.0 - (margin_right + side) / canvas_x
set tmargin at screen 1.0 - margin_top / canvas_y
set bmargin at screen margin_bottom / canvas_y
set border 2
set xlabel across_text.', '.length_unit offset 0, 0.8

px = 1.0 / scale      # one pixel in the picture's length

# Ground as a whole, then the fills; everything else is drawn over them.
set object 1 rectangle from -window_x, 0 to window_x, window_z behind \
    fc rgb tone_unfrozen fs solid noborder
array tone[n_tones + 1]
do for [i = 1:n_tones] { tone[i] = int(word($tone_of[i], 1)) }
color_of(i) = tone[i] == 0 ? tone_frozen : tone[i] == 1 ? tone_near : tone_unfrozen

load folder.'/works.gp'
if (given(tank_half)) {
    set label 21 water_text at 0, (crown + invert) / 2 center front
    set label 22 ice_text at 0, (crown + invert) / 2 + 20 * px center front
}

at(x) = x / canvas_x
up(y) = y / canvas_y

# Legend below, made by hand so that its swatches are those of the picture.
legend_y = 2.0 + 20.0 * (n_notes + legend_rows)
do for [i = 1:n_notes] {
    set label 70 + i $notes[i][2:strlen($notes[i]) - 2] at screen at(margin_left), \
        up(22.0 + 20.0 * (n_notes - i) - 4) left front
}
names = 'frozen|not frozen, below '.sprintf('%.3g', near_zero).' '.degree. \
    '|warmer|'.sprintf('%g', freezing).' '.degree.' line|edge of the pit'
width = '108 256 116 126 140'
edge = margin_left
do for [i = 1:5] {
    if (i == 4 && legend_rows == 2) { edge = margin_left; legend_y = legend_y - 20.0 }
    caption = names[1:strstrt(names.'|', '|') - 1]
    names = names[strlen(caption) + 2:*]
    swatch = i == 1 ? tone_frozen : i == 2 ? tone_near : tone_unfrozen
    if (i <= 3) {
        set object 50 + i rectangle from screen at(edge), up(legend_y) \
            to screen at(edge + 34), up(legend_y + 18) front \
            fc rgb swatch fs solid border lc rgb soft
    }
    if (i == 1) {
        do for [k = 0:3] {
            set arrow 60 + k from screen at(edge + 8 * k + 1), up(legend_y + 1) \
                to screen at(edge + 8 * k + 9), up(legend_y + 17) nohead front lc rgb hatch_ink lw 0.8
        }
    }
    if (i == 4) {
        set arrow 65 from screen at(edge), up(legend_y + 9) to screen at(edge + 34), \
            up(legend_y + 9) nohead front lc rgb ink lw 3
    }
    if (i == 5 && given(pit_half)) {
        set arrow 66 from screen at(edge), up(legend_y + 9) to screen at(edge + 34), \
            up(legend_y + 9) nohead front lc rgb ink lw 0.9 dt (10, 5, 2, 5)
    }
    if (i < 5 || given(pit_half)) {
        set label 50 + i caption at screen at(edge + 40), up(legend_y + 9) left front
    }
    edge = edge + int(word(width, i))
}

plot for [i = 1:n_tones] $tones index i - 1 using 1:2 with filledcurves closed \
         fc rgb color_of(i) fs solid noborder notitle, \
     $hatch using 1:2 with lines lc rgb hatch_ink lw 0.8 notitle, \
     $soil_gravel using 1:2 with points pt 6 ps 0.55 lc rgb soil_ink lw 0.7 notitle, \
     $soil_crushed using 1:2 with points pt 8 ps 0.6 lc rgb soil_ink lw 0.7 notitle, \
     $soil_sand using 1:2 with points pt 7 ps 0.16 lc rgb soil_ink notitle, \
     $soil_fine using 1:2 with lines lc rgb soil_ink lw 0.7 notitle, \
     $soil_organic using 1:2 with lines lc rgb soil_ink lw 0.7 notitle, \
     $isotherms using 1:2 with lines lc rgb dim lw 0.8 dt (6, 4) notitle, \
     @works_under, \
     $isotherm_labels using 1:2:(sprintf('%g', $3)) with labels boxed font ',9' textcolor rgb dim notitle, \
     $zero using 1:2 with lines lc rgb ink lw 3 notitle, \
     $soils using 1:2:3 with labels center boxed font ',9' textcolor rgb dim notitle, \
     @works_over
