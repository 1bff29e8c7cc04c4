# The stations of a study where they are: freezing index by tone, and the board each needs. No borders.
# In: $places (longitude, latitude, index, name, thickness), middle (latitude)
canvas_x = 940
canvas_y = 620
load folder.'/common.gp'
set border 3
set xlabel 'longitude, degrees east'
set ylabel 'latitude, degrees north'
set title heading_of('Stations: freezing index, and board of the smallest option', 90) noenhanced
set size ratio -1.0 / cos(middle * pi / 180)
set offsets graph 0.05, graph 0.16, graph 0.12, graph 0.12
set xtics nomirror out
set tmargin 4
set palette defined (0 tone_unfrozen, 0.4 tone_near, 1 hatch_ink)
set cblabel 'mean freezing index, '.degree.' day'
set autoscale cbfix
set key off
plot $places using 1:2:3 with points pt 7 ps 2.2 lc palette, \
     $places using 1:2 with points pt 6 ps 2.2 lc rgb ink, \
     $places using 1:2:(strcol(5)) with labels left offset char 1.4, 0.5 textcolor rgb ink noenhanced, \
     $places using 1:2:(cut_to(strcol(4), 26)) with labels left offset char 1.4, -0.5 \
         textcolor rgb dim noenhanced
