# How many of the cases of a study come out below each value: coldest water, frost depth.
# In: $water, $frost (value, percent; one block an option), waters, frosts, water_1 ...,
#     $limits of the water (value, text)
canvas_x = 1060
canvas_y = waters > 0 ? 880 : 480
load folder.'/common.gp'
set border 3
set yrange [0:100]
set ylabel 'cases at or below, %'
set key at screen 0.99, screen 0.93 right top vertical maxcols 1 Left reverse samplen 3
set rmargin at screen 0.62
set lmargin at screen 0.08
array tones[6] = [ink, blue, orange, soft, '#5b8c5a', '#7a4fa3']
array dashes[4] = [1, 2, 4, 5]
set multiplot layout (waters > 0 ? 2 : 1), 1 title heading_of('What the cases came to', 90) noenhanced
if (waters > 0) {
    set xlabel 'coldest water, '.degree
    do for [i = 1:|$limits|] {
        at = word($limits[i], 1) + 0
        set arrow i from at, 0 to at, 100 nohead lc rgb soft dt (4, 4) lw 1.5
        set label i 'limit' at at, 96 left offset char 0.5, 0 textcolor rgb dim
    }
    plot for [i = 1:waters] $water index i - 1 using 1:2 with lines lw 2 \
        lc rgb tones[(i - 1) % 6 + 1] dt dashes[int((i - 1) / 6) % 4 + 1] \
        title cut_to(value(sprintf('water_%d', i)), 44)
    unset arrow
    unset label
}
set xlabel 'deepest frost in undisturbed ground, '.length_unit
set key off
plot for [i = 1:frosts] $frost index i - 1 using 1:2 with lines lw 2 lc rgb ink
unset multiplot
