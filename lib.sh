p () 
{ 
    sleep 1
}
