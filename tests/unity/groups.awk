# Sorts sources into groups that can be compiled as one: of one folder, none defining in an unnamed
# namespace what another defines there, all using the same namespaces. Prints "group file" for each;
# at most `most` a group.
function close_file(    g, name, fits) {
  if (file == "") return
  folder = folder " " namespaces
  for (g = 1; g <= groups[folder]; ++g) {
    fits = size[folder, g] < most
    for (name in own) if ((folder, g, name) in taken) fits = 0
    if (fits) break
  }
  if (g > groups[folder]) groups[folder] = g
  ++size[folder, g]
  for (name in own) taken[folder, g, name] = 1
  if (!(folder in number)) number[folder] = ++folders
  print "group_" number[folder] "_" g, file
  for (name in own) delete own[name]
}
FNR == 1 {
  close_file()
  file = FILENAME
  folder = FILENAME
  sub(/\/[^\/]*$/, "", folder)
  namespaces = ""
  inside = 0
}
/^using namespace / { namespaces = namespaces $3 }
/^template class / { own[$3] = 1 }
/^namespace \{/ { inside = 1; next }
/^\}  \/\/ namespace$/ { inside = 0 }
inside && match($0, /^(struct|class|enum class|enum|using) [A-Za-z_0-9]+/) {
  count = split(substr($0, RSTART, RLENGTH), words, " ")
  own[words[count]] = 1
  next
}
inside && /^[A-Za-z]/ && match($0, /[A-Za-z_0-9:]+ ?[(={;[]/) {
  name = substr($0, RSTART, RLENGTH - 1)
  sub(/ $/, "", name)
  own[name] = 1
}
END { close_file() }
