# The choices: cover (downward) against board thickness, a panel for each reach of the board.
# A filled disc meets every limit, a cross does not; the pick is ringed. Below each mark the
# coldest water and the letter of the limit with the least margin.
# In: $panel1 ... (thickness, cover, ok, pick, text), n_panels, $reaches, $thicknesses, $covers,
#     letters, thickness_unit
canvas_x = n_panels < 2 ? 640 : 940
columns = n_panels < 2 ? 1 : 2
rows = int((n_panels + columns - 1) / columns)
canvas_y = 176.0 + 400.0 * rows
load folder.'/common.gp'

set border 3
set key off
unset xtics
unset ytics
set xtics () textcolor rgb ink nomirror out
set ytics () textcolor rgb ink nomirror out
do for [i = 1:|$thicknesses|] { set xtics add (word($thicknesses[i], 2) word($thicknesses[i], 1) + 0) }
do for [i = 1:|$covers|] { set ytics add (word($covers[i], 2) word($covers[i], 1) + 0) }
stats $thicknesses using 1 nooutput name 'wide'
stats $covers using 1 nooutput name 'deep'
room_x = wide_max > wide_min ? 0.12 * (wide_max - wide_min) : 0.5 * wide_max + 0.1
room_y = deep_max > deep_min ? 0.18 * (deep_max - deep_min) : 0.5 * deep_max + 0.1
set xrange [wide_min - room_x:wide_max + room_x]
set yrange [deep_max + room_y:deep_min - room_y]
set xlabel 'thickness of the board, '.thickness_unit
set ylabel 'cover over the tank, '.length_unit
panel(i) = sprintf('$panel%d', i)

if (is_text) {
    set multiplot layout rows, columns title 'The choices'
} else {
    set multiplot layout rows, columns title "The choices\n".title_text[1:90] noenhanced \
        margins screen 0.09, 0.98, (144.0 / canvas_y), (1.0 - 92.0 / canvas_y) \
        spacing screen 0.08, (96.0 / canvas_y)
    foot(y) = y / canvas_y
    set object 1 circle at screen 0.09, screen foot(44) size screen 0.0065 front fc rgb blue fs solid
    set label 1 'every limit met' at screen 0.105, foot(44) left
    set label 2 'x' at screen 0.258, foot(45) center textcolor rgb orange font ',14'
    set label 3 'some limit not met' at screen 0.27, foot(44) left
    set object 3 circle at screen 0.46, screen foot(44) size screen 0.011 front fc rgb ink \
        fs empty border lw 2
    set label 4 'the pick' at screen 0.478, foot(44) left
    set label 5 'number: coldest water, '.degree.';  letter: least margin' \
        at screen 0.56, foot(44) left
    set label 6 letters at screen 0.09, foot(18) left noenhanced
}
do for [i = 1:n_panels] {
    head = $reaches[i]
    set title head[2:strlen(head) - 2] noenhanced
    eval 'plot '.panel(i).' using ($3 == 1 ? $1 : NaN):2 with points pt 7 ps (is_text ? 1 : 1.9) lc rgb blue, '. \
         panel(i).' using ($3 == 0 ? $1 : NaN):2 with points pt 2 ps (is_text ? 1 : 1.6) lw 2 lc rgb orange, '. \
         panel(i).' using ($4 == 1 ? $1 : NaN):2 with points pt 6 ps (is_text ? 1 : 3.4) lw 2.4 lc rgb ink, '. \
         panel(i).' using 1:2:5 with labels offset 0, -1.3 font ",10" textcolor rgb ink'
    unset label
    unset object
}
unset multiplot
