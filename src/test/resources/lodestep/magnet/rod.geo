// A rod's upper half in air, r along x and its axis along y, in two spheres; the outer is a shell
// that stands for all space beyond. Lengths in metres; figures.pro gives them.
Include "figures.pro";
coarse = radius / 10; fine = radius / 40;
Point(1) = {0, 0, 0, coarse};
Point(2) = {radius, 0, 0, coarse};
Point(3) = {radius, half, 0, fine};
Point(4) = {0, half, 0, 2 * fine};
Point(5) = {inner, 0, 0, inner / 20};
Point(6) = {0, inner, 0, inner / 20};
Point(7) = {0, half + radius, 0, 4 * fine};
Point(8) = {outer, 0, 0, outer / 20};
Point(9) = {0, outer, 0, outer / 20};
Line(1) = {1, 2}; Line(2) = {2, 3}; Line(3) = {3, 4}; Line(4) = {4, 1};
Line(5) = {2, 5}; Circle(6) = {5, 1, 6}; Line(7) = {6, 7}; Line(8) = {7, 4};
Line(9) = {5, 8}; Circle(10) = {8, 1, 9}; Line(11) = {9, 6};
Curve Loop(1) = {1, 2, 3, 4}; Plane Surface(1) = {1};
Curve Loop(2) = {5, 6, 7, 8, -3, -2}; Plane Surface(2) = {2};
Curve Loop(3) = {9, 10, 11, -6}; Plane Surface(3) = {3};
Physical Surface(100) = {1}; Physical Surface(200) = {2}; Physical Surface(300) = {3};
Physical Curve(10) = {1, 5, 9, 10};
