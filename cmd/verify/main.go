// Command verify is the project's one test command.
package main

func main() {}
